import { pressedControls } from '../model/value.ts';
import { valueAt } from '../model/value-at.ts';
import type { SiteChange } from '../adopt/write-site.ts';
import { entriesOf } from '../compare/refit/fit.ts';
import type { Habit, HandsOn } from '../compare/refit/problem.ts';
import type { Placed, Proposal } from '../compare/refit/refit.ts';
import { mostInChord } from '../compare/refit/options.ts';
import { mostNodes } from '../compare/refit/solve.ts';
import { onlyFor } from '../compare/refit/spots.ts';
import { describeValue } from '../model/describe-value.ts';
import type { ControlSeen, Refit, RefitChange, RefitDropped, RefitHabit, RefitProposal } from '../model/refit.ts';
import { lineColumn } from '../text/line-index.ts';
import type { Position } from '../vocabulary/positions.ts';
import { inlineYaml } from './adoption-of.ts';
import type { RefitRun, Taken } from './refit-profile.ts';

/** A refit as it is told: hotkeys kept, moved and dropped, and what each term counts. `from`, `to`: names of the profiles. */
export function refitOf(run: RefitRun, from: string, to: string): Refit {
  const { brought, refitted } = run;
  const { problem } = brought;
  return {
    from: { profile: from, name: run.from.device.name },
    to: { profile: to, name: run.to.device.name },
    proposals: refitted.proposals.map((proposal, k) => proposalOf(run, proposal, run.taken[k])),
    bound: refitted.bound / 1000,
    looked: refitted.nodes,
    most: mostNodes,
    plain: brought.plain.map(({ setting, only, value }) => ({ setting, only, value: describeValue(value) })),
    left: brought.left.map(({ line: { setting, only }, why }) => ({ setting, only, why })),
    idlePins: brought.idlePins,
    stays: problem.standing.map(({ action, press }) => ({
      action,
      controls: seen(problem.to, pressedControls(press)),
    })),
  };
}

function proposalOf({ brought, to }: RefitRun, proposal: Proposal, taken: Taken | undefined): RefitProposal {
  const { problem, lines } = brought;
  const told = (habit: Habit): RefitHabit => ({
    action: habit.action,
    only: lines.get(habit.id)?.only ?? '',
    manner: habit.press.kind,
    from: seen(problem.from, pressedControls(habit.press)),
  });
  const placed = proposal.placed.flatMap((one) => {
    const { press, counts } = one.placing;
    if (press === undefined) return [];
    const why = counts.position === undefined ? [] : whyMoved(one, problem.to, to.device.name);
    return [{ ...told(one.habit), to: seen(problem.to, pressedControls(press)), why, counts }];
  });
  return {
    holds: proposal.holds.flatMap(({ hold, to: position, counts }) => {
      const line = lines.get(hold.id);
      const one = (device: HandsOn, at: Position | undefined): ControlSeen | undefined =>
        at === undefined ? undefined : seen(device, [at])[0];
      return line === undefined
        ? []
        : [
            {
              only: line.only,
              from: one(problem.from, hold.from),
              to: one(problem.to, position),
              why:
                hold.pinned && hold.from !== undefined && hold.from !== position
                  ? `it is pinned, but ${to.device.name} has no ${hold.from}`
                  : undefined,
              counts,
            },
          ];
    }),
    kept: placed.filter(({ counts }) => counts.moved === undefined),
    moved: placed.filter(({ counts }) => counts.moved !== undefined),
    dropped: proposal.placed
      .filter(({ placing }) => placing.press === undefined)
      .map((one) => ({ ...told(one.habit), ...whyDropped(one, problem.to, to.device.name) })),
    terms: entriesOf(proposal.counts).map(([term, count]) => ({
      term,
      // A hotkey that is dropped is one hotkey, whatever it counts for.
      count: term === 'dropped' ? proposal.placed.filter(({ placing }) => placing.press === undefined).length : count,
      points: (count * Math.round(problem.weights[term] * 1000)) / 1000,
    })),
    points: proposal.cost / 1000,
    proved: proposal.proved,
    changes: (taken?.changes ?? []).map((change) => changeOf(change, taken)),
  };
}

/** Why a hotkey is not on the controls on which hands know it. */
function whyMoved({ habit, blocked, instead }: Placed, device: HandsOn, name: string): readonly string[] {
  const positions = pressedControls(habit.press);
  const lacking = positions.filter((position) => !device.controls.has(position));
  if (lacking.length > 0) return [`${name} has no ${listOf(lacking)}`];
  const reasons = blocked.filter(({ positions: at }) => at.every((position) => positions.includes(position)));
  if (reasons.length > 0) return [...new Set(reasons.map(({ why }) => why))];
  return instead.length === 0 ? [] : [`${listOf(positions)} is for ${listOf(instead)}`];
}

/** Where it cannot be and why, alike ones together; and what giving up would make room. */
function whyDropped(
  { habit, blocked, freeing }: Placed,
  device: HandsOn,
  name: string,
): Pick<RefitDropped, 'why' | 'freeing'> {
  const positions = pressedControls(habit.press);
  const lacking = positions.filter((position) => !device.controls.has(position));
  const byReason = new Map<string, Position[]>();
  for (const { positions: at, why } of blocked) {
    const known = byReason.get(why);
    if (known === undefined) byReason.set(why, [...at]);
    else known.push(...at);
  }
  const others = [...byReason].map(([why, at]) => `${listOf([...new Set(at)])}: ${why}`);
  return {
    why: [
      ...(lacking.length === 0 ? [] : [`${name} has no ${listOf(lacking)}`]),
      ...(habit.pinned ? ['it is pinned, so that it may not move'] : []),
      ...(habit.press.kind === 'chord' && habit.press.positions.length > mostInChord && !habit.pinned
        ? [`a chord of more than ${mostInChord} controls is kept as it is, or dropped`]
        : []),
      ...(habit.press.kind === 'alone' && !habit.pinned
        ? ['without hold it may only be where games play nothing']
        : []),
      ...(habit.press.kind === 'pad' && !habit.pinned ? ['every other control plays an input of its own'] : []),
      ...others,
    ],
    freeing: freeing
      .filter(({ giveUp }) => giveUp.length > 0)
      .map((one) => ({ giveUp: one.giveUp, controls: seen(device, one.positions) })),
  };
}

function changeOf({ site, value }: SiteChange, taken: Taken | undefined): RefitChange {
  const path = site.kind === 'new-block' ? blockPath(site, taken) : site.path;
  const setting = site.path.filter((step) => typeof step === 'string' && step !== 'only').join('.');
  const document = taken?.file === undefined ? undefined : taken.document;
  return {
    setting,
    only: site.selectors !== undefined ? onlyFor(site.selectors) : onlyOf(site),
    before: site.written === undefined ? undefined : inlineYaml(site.written),
    after: inlineYaml(value ?? null),
    line: document === undefined ? undefined : lineColumn(document.source, document.keyPlace(path).span.start).line,
  };
}

function blockPath({ path, selectors }: SiteChange['site'], taken: Taken | undefined): readonly (string | number)[] {
  const data = taken?.document.data;
  const list = (given: unknown): string => JSON.stringify(typeof given === 'string' ? [given] : given);
  const index = (data?.only ?? []).findLastIndex(
    (block, k) =>
      (['frontend', 'core', 'system', 'game'] as const).every(
        (name) => list(block.for[name]) === list(selectors?.[name]),
      ) && valueAt(data, ['only', k, ...path]) !== undefined,
  );
  return ['only', index, ...path];
}

function onlyOf({ document, path }: SiteChange['site']): string {
  const [, index] = path;
  const written = typeof index === 'number' ? document.data.only?.[index]?.for : undefined;
  if (written === undefined) return '';
  const list = (given: string | readonly string[] | undefined): { readonly is?: readonly string[] } =>
    given === undefined ? {} : { is: typeof given === 'string' ? [given] : given };
  const [frontend, core, system, game] = [written.frontend, written.core, written.system, written.game].map(list);
  return onlyFor({
    ...(frontend?.is === undefined ? {} : { frontend: frontend.is }),
    ...(core?.is === undefined ? {} : { core: core.is }),
    ...(system?.is === undefined ? {} : { system: system.is }),
    ...(game?.is === undefined ? {} : { game: game.is }),
  });
}

function seen({ controls }: HandsOn, positions: readonly Position[]): readonly ControlSeen[] {
  return positions.map((position) => ({ position, label: controls.get(position) }));
}

function listOf(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}
