import { nearestNames } from '../diagnostics/nearest.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { BuiltFile, Edit, FidelityEntry } from '../model/compiled.ts';
import { splitCardPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import { hostOf, profilePaths, runProfile } from '../pipeline.ts';
import type { ProfileRun, Project } from '../pipeline.ts';
import { decisionLines, editLines, fidelityLine, keyText, lineAt } from '../report/explain/story.ts';
import { findControl } from '../report/explain/find-control.ts';
import { holdsLine, keysOnLine } from '../report/explain/keys-on-line.ts';
import { scopeText } from '../report/fidelity.ts';
import { placeJson } from '../report/json-findings.ts';
import { placeText } from '../report/terminal/code-frame.ts';
import { encodeText } from '../text/encoding.ts';
import type { Place } from '../text/place.ts';
import { lineStarts } from '../text/line-index.ts';
import { settings, settingById } from '../vocabulary/registry.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { runAgainst } from './explain-against.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import { controlLines } from '../report/explain/control-lines.ts';
import { version } from './version.ts';

export const run: VerbRun = (shell, args, options) => {
  if (text(options, 'against') !== undefined) return runAgainst(shell, args, options);
  const [what = '', second, third] = args;
  const line = /^(.+):(\d+)(?::\d+)?$/.exec(what);
  if (line?.[1] !== undefined && line[2] !== undefined && second === undefined)
    return explainLine(shell, line[1], Number(line[2]), options);
  if (second === undefined) {
    shell.say(
      'thumbwright: explain wants a profile and a setting (fen saves.state-on-exit), or a file and a line (house.yaml:12).\nSee:\n  thumbwright help explain\n',
    );
    return 2;
  }
  if (settingById(second) === undefined) {
    const told = explainControl(shell, what, second, options);
    if (told !== undefined) return told;
  }
  return explainSetting(shell, what, second, third, options);
};

function runOne(shell: Shell, name: string, options: Options): { project: Project; run: ProfileRun } | ExitStatus {
  const card = cardFolders(shell, options);
  if (card === 'stop') return 2;
  const chosen = chooseTargets(shell, [name]);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  if (profile === undefined) return 2;
  return { project, run: runProfile(project, profile.path, { card, newest: false }) };
}

/** Says that a profile with errors has no answers yet. */
function unreadable(shell: Shell, name: string): ExitStatus {
  shell.say(
    `thumbwright: ${name} cannot be compiled, so that nothing can be explained yet.\nSee what is wrong:\n  thumbwright check ${name}\n`,
  );
  return 1;
}

/** A control by its position or label; undefined when the device has none of that name. */
function explainControl(shell: Shell, name: string, reference: string, options: Options): ExitStatus | undefined {
  const opened = runOne(shell, name, options);
  if (typeof opened === 'number') return opened;
  const { built } = opened.run;
  if (built === undefined) return unreadable(shell, name);
  const { device } = built.compiled.resolved;
  const found = findControl(reference, device.controls);
  if (found.kind !== 'found') {
    const named = visible(reference);
    const have = [...device.controls.controls.keys()].join(', ');
    if (found.kind === 'several')
      shell.say(
        `thumbwright: ${found.positions.join(' and ')} of ${name} are both labelled ${named}.\nName it by position, as in:\n  thumbwright explain ${name} ${found.positions[0] ?? ''}\n`,
      );
    else if (found.kind === 'lacking') shell.say(`thumbwright: ${name} has no ${named}.\nIt has: ${have}.\n`);
    else if (found.nearest.length > 0)
      shell.say(
        `thumbwright: ${name} has no control called ${JSON.stringify(named)}, and no setting is called so.\nDid you mean ${found.nearest.join(' or ')}?\n`,
      );
    else return undefined;
    return 2;
  }
  const { control } = found;
  const lines = controlLines(built.compiled, control);
  if (flag(options, 'json'))
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'explain', profile: opened.run.name, control: control.position, label: control.label ?? null, sends: control.sources, lines }, undefined, 2)}\n`,
    );
  else shell.out(`${lines.join('\n')}\n`);
  return 0;
}

function explainSetting(
  shell: Shell,
  name: string,
  id: string,
  only: string | undefined,
  options: Options,
): ExitStatus {
  const setting = settingById(id);
  if (setting === undefined) {
    const near = nearestNames(
      id,
      settings.map((s) => s.id),
    );
    shell.say(
      `thumbwright: no setting is called ${JSON.stringify(visible(id))}.\n${near.length > 0 ? `Did you mean ${near.join(' or ')}?\n` : ''}`,
    );
    return 2;
  }
  const opened = runOne(shell, name, options);
  if (typeof opened === 'number') return opened;
  const { built } = opened.run;
  if (built === undefined) return unreadable(shell, name);
  const { resolved, fidelity, edits } = built.compiled;
  const instances = resolved.instances.filter((instance) => only === undefined || instance.name === only);
  if (instances.length === 0) {
    shell.say(
      `thumbwright: ${name} has no frontend called ${JSON.stringify(visible(only ?? ''))}.\nThere are: ${resolved.instances.map((i) => i.name).join(', ')}.\n`,
    );
    return 2;
  }
  const entries = fidelity.filter(
    (entry) => entry.setting === id && instances.some((instance) => instance.name === entry.instance),
  );
  const onCard = texts(options, 'card').length > 0;
  if (flag(options, 'json')) {
    shell.out(
      `${JSON.stringify(
        {
          thumbwright: version,
          document: 'explain',
          profile: opened.run.name,
          setting: id,
          answers: entries.map((entry) => ({
            ...entryJson(entry, edits),
            ...(onCard ? { hiddenBy: hiddenBy(entry, opened.run.findings).map(({ place }) => placeJson(place)) } : {}),
          })),
        },
        undefined,
        2,
      )}\n`,
    );
    return 0;
  }
  shell.out(`${id}: ${setting.description}\n`);
  if (entries.length === 0) {
    const asked = instances.filter((instance) => setting.roles.some((role) => instance.roles.includes(role)));
    shell.out(
      asked.length === 0
        ? `\nNo frontend of ${name} is of a kind that has it (${setting.roles.join(', ')}).\n`
        : `\nNo layer sets it for ${asked.map((instance) => instance.name).join(', ')}: each keeps what stands there.\n`,
    );
    return 0;
  }
  for (const entry of entries) {
    shell.out(
      `\n${entry.instance}, ${scopeText(entry.scope)}${entry.item === undefined ? '' : `, ${entry.item}`}: ${fidelityLine(entry)}\n`,
    );
    for (const line of decisionLines(entry.decision)) shell.out(`  ${line}\n`);
    for (const edit of editsOf(entry, edits)) {
      shell.out(`  key ${visible(edit.key)} in ${edit.path}: ${keyText(edit)}\n`);
      if (edit.dialectPlace !== undefined)
        shell.out(`    spelled by ${placeText(edit.dialectPlace)}: ${lineAt(edit.dialectPlace)}\n`);
      shell.out(`    rule ${edit.rule.name}: ${edit.rule.says}\n`);
      if (onCard) shell.out(`    ${cardLine(edit, built.files)}\n`);
    }
    for (const { place, detail } of hiddenBy(entry, opened.run.findings))
      shell.out(`  hidden on the card by ${placeText(place)}\n    ${detail}\n`);
  }
  return 0;
}

/** Whether the card says it already. */
function cardLine(edit: Edit, files: readonly BuiltFile[]): string {
  const file = files.find(({ path }) => path === edit.path);
  const key = file?.keys.find((built) => built.edit === edit);
  if (file?.base === undefined) return 'the card has no such file yet';
  return key?.changed === true ? 'the card says otherwise now' : 'the card has it';
}

/** Lines of the card that are read over what an entry writes. */
function hiddenBy(
  entry: FidelityEntry,
  findings: readonly Finding[],
): readonly { readonly place: Place; readonly detail: string }[] {
  return findings
    .filter(
      ({ code, setting, instance }) =>
        code === 'hidden-on-card' && setting === entry.setting && instance === entry.instance,
    )
    .flatMap(({ related, detail }) => (related ?? []).map(({ place }) => ({ place, detail })));
}

function editsOf(entry: FidelityEntry, edits: readonly Edit[]): readonly Edit[] {
  return edits.filter(
    (edit) =>
      edit.setting === entry.setting &&
      edit.item === entry.item &&
      edit.instance === entry.instance &&
      JSON.stringify(edit.scope) === JSON.stringify(entry.scope),
  );
}

function entryJson(entry: FidelityEntry, edits: readonly Edit[]): object {
  return {
    instance: entry.instance,
    scope: entry.scope,
    ...(entry.item === undefined ? {} : { item: entry.item }),
    value: entry.decision.value,
    fidelity: entry.fidelity,
    from: { ...placeJson(entry.decision.origin.place), layer: entry.decision.origin.layer },
    over: entry.decision.losers.map((loser) => ({ ...placeJson(loser.origin.place), layer: loser.origin.layer })),
    rejected: entry.decision.rejected.map(({ what, why }) => ({ what, why })),
    keys: editsOf(entry, edits).map(editJson),
  };
}

function editJson(edit: Edit): object {
  return {
    setting: edit.setting,
    ...(edit.item === undefined ? {} : { item: edit.item }),
    instance: edit.instance,
    scope: edit.scope,
    path: edit.path,
    key: edit.key,
    value: edit.value ?? null,
    from: { ...placeJson(edit.origin.place), layer: edit.origin.layer },
    ...(edit.dialectPlace === undefined ? {} : { dialect: placeJson(edit.dialectPlace) }),
    rule: edit.rule,
  };
}

function explainLine(shell: Shell, file: string, line: number, options: Options): ExitStatus {
  const chosen = chooseTargets(shell, []);
  if (chosen.kind === 'stop') return chosen.status;
  const { project } = chosen.targets;
  const wanted = shell.files.real(shell.path(file));
  if (wanted === undefined) {
    shell.say(
      `thumbwright: there is no ${shell.show(shell.path(file))}.\nGive a line of a built file, profile, house or dialect.\n`,
    );
    return 2;
  }
  const reached: { readonly device: string; readonly edit: Edit }[] = [];
  let unclear = false;
  for (const { path } of profilePaths(project)) {
    const { built, name: id } = runProfile(project, path, { card: undefined, newest: false });
    if (built === undefined) {
      unclear = true;
      continue;
    }
    for (const output of built.files) {
      const split = splitCardPath(output.path);
      const there = shell.files.real(shell.files.join(project.root, 'out', id, split.part, split.path));
      if (there !== wanted) continue;
      return tellBuiltLine(shell, file, line, output, wanted, options);
    }
    for (const edit of built.compiled.edits)
      if (reaches(project, edit, wanted, line)) reached.push({ device: id, edit });
  }
  if (flag(options, 'json')) {
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'explain', file, line, reaches: reached.map(({ device, edit }) => ({ device, ...editJson(edit) })) }, undefined, 2)}\n`,
    );
    return 0;
  }
  if (reached.length === 0) {
    shell.out(
      `Nothing that is built comes from ${visible(file)}:${line}.${unclear ? ' (A profile has errors, and was left out: thumbwright check.)' : ''}\n`,
    );
    return 0;
  }
  shell.out(`${visible(file)}:${line} reaches ${reached.length === 1 ? 'one key' : `${reached.length} keys`}:\n`);
  const groups = new Map<string, { device: string; edits: Edit[] }>();
  for (const { device, edit } of reached) {
    const key = JSON.stringify([device, edit.instance, edit.setting, edit.item, edit.scope]);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { device, edits: [edit] });
    else known.edits.push(edit);
  }
  for (const { device, edits } of groups.values()) shell.out(`\n${editLines(edits, device).join('\n')}\n`);
  return 0;
}

function reaches(project: Project, edit: Edit, wanted: HostPath, line: number): boolean {
  const places = [edit.origin.place, ...(edit.dialectPlace === undefined ? [] : [edit.dialectPlace])];
  return places.some((place) => {
    const host = hostOf(project, place.source);
    return host !== undefined && project.files.real(host) === wanted && holdsLine(place, line);
  });
}

function tellBuiltLine(
  shell: Shell,
  file: string,
  line: number,
  output: BuiltFile,
  path: HostPath,
  options: Options,
): ExitStatus {
  const now = shell.files.read(path);
  const stale = now.kind !== 'bytes' || Buffer.compare(encodeText(output.text), now.bytes) !== 0;
  const lines = lineStarts(output.text).length;
  if (line < 1 || line > lines) {
    shell.say(`thumbwright: ${visible(file)} has ${lines} lines.\nGive one of them.\n`);
    return 2;
  }
  const keys = keysOnLine(output, line);
  if (flag(options, 'json')) {
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'explain', file, line, stale, keys: keys.map(({ edit }) => editJson(edit)) }, undefined, 2)}\n`,
    );
    return 0;
  }
  if (stale)
    shell.say('The file is not as the profiles would build it now; run thumbwright build to bring it up to date.\n');
  if (output.whole !== undefined) {
    const { whole } = output;
    shell.out(
      `${visible(file)} is wholly made from a template, for ${whole.instance}.\n  from ${placeText(whole.origin.place)} (${whole.origin.layer}): ${lineAt(whole.origin.place)}\n  spelled by ${placeText(whole.dialectPlace)}: ${lineAt(whole.dialectPlace)}\n  rule ${whole.rule.name}: ${whole.rule.says}\n`,
    );
    return 0;
  }
  if (keys.length === 0)
    shell.out(
      `No setting of ours is on that line: it stands as ${output.base === undefined ? 'the format needs it' : 'the frontend ships it'}.\n`,
    );
  for (const { edit, changed } of keys) {
    shell.out(`${editLines([edit]).join('\n')}\n`);
    if (!changed) shell.out('  (the frontend ships this value already)\n');
  }
  return 0;
}
