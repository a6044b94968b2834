import { visible } from '../diagnostics/visible.ts';
import type { Adoption, AdoptionChange, AdoptionLayer, SettingPlace } from '../model/adoption.ts';
import { scopeText } from './fidelity.ts';
import { count } from './wrap.ts';

const mostShown = 12;

/** What adopting would write, where, and what else that changes; what is left, and what to do about it. */
export function adoptionText(adoption: Adoption): string {
  const { changes, profile, secrets, missing, remaining } = adoption;
  const lines: string[] = [];
  if (changes.length === 0 && secrets.length === 0) lines.push(`${visible(profile)}: nothing to adopt.`);
  for (const change of changes) lines.push(...changeLines(change, changes));
  for (const { name } of secrets) lines.push(`secret:${name}: its text goes to the private secrets file.`);
  const left = adoption.left.filter(({ set }) => set);
  if (left.length > 0 || adoption.unread.length > 0) lines.push('Left as it is:');
  for (const one of left) lines.push(`  ${placeText(one)}: ${visible(one.why)}.`, `    ${visible(one.wayOut)}`);
  for (const { path, why, wayOut } of adoption.unread)
    lines.push(`  ${visible(path)}: ${visible(why)}.`, `    ${visible(wayOut)}`);
  const unread = adoption.left.length - left.length;
  if (unread > 0)
    lines.push(
      `${count(unread, 'setting')} that the profile does not set cannot be read from the card, and stay as they are.`,
    );
  if (missing.length > 0) lines.push(`Not on the card yet, and not adopted: ${listText(missing)}.`);
  const open = remaining.filter((one) => ![...left, ...missing].some((other) => samePlace(one, other)));
  if (open.length > 0) lines.push(`Compiling it would still change on the card: ${listText(open)}.`);
  return lines.map((line) => `${line}\n`).join('');
}

function changeLines(change: AdoptionChange, all: readonly AdoptionChange[]): readonly string[] {
  const at = `${visible(change.file)}${change.line === undefined ? '' : `:${change.line}`}`;
  const name = change.item === undefined ? change.setting : `${change.setting} ${change.item}`;
  const lines = [
    `${at}: ${visible(name)}: ${shown(change.before)} -> ${shown(change.after)}`,
    isMovedFrom(change, all)
      ? '  with the value elsewhere, no frontend could say this line any more'
      : `  ${change.layer.includes(', only for') ? `${visible(change.layer)}; ` : ''}as ${listOf(change.places)} has it`,
    ...reachLines(change, '  '),
  ];
  for (const { instance, file, key, text } of change.extra)
    lines.push(`  extra: ${instance}, ${file}: ${visible(key)}: ${JSON.stringify(visible(text))} (no setting says it)`);
  for (const other of change.alternatives) {
    const effects = reachLines(other, '').join('; ');
    lines.push(`  or at ${visible(other.layer)}${effects === '' ? '' : `: ${effects}`}`);
  }
  return lines;
}

/** A line that is taken out because its value is said elsewhere. */
function isMovedFrom({ setting, item, after, places }: AdoptionChange, all: readonly AdoptionChange[]): boolean {
  return (
    after === undefined &&
    all.some(
      (other) =>
        other.after !== undefined &&
        other.setting === setting &&
        other.item === item &&
        places.every((place) => other.places.some((one) => samePlace(one, place))),
    )
  );
}

function reachLines({ others, profiles }: AdoptionLayer, indent: string): readonly string[] {
  const bad = others.filter(({ agrees }) => !agrees);
  const good = others.filter(({ agrees }) => agrees);
  return [
    ...(good.length === 0 ? [] : [`${indent}also reaches ${listText(good)}, as the card has it`]),
    ...(bad.length === 0 ? [] : [`${indent}would change ${listText(bad)}, which the card has otherwise`]),
    ...(profiles.length === 0 ? [] : [`${indent}also changes ${profiles.map((name) => visible(name)).join(', ')}`]),
  ];
}

function shown(yaml: string | undefined): string {
  return yaml === undefined ? '(not there)' : visible(yaml);
}

function listOf(places: readonly SettingPlace[]): string {
  return [...new Set(places.map(({ instance, scope }) => `${instance}, ${scopeText(scope)}`))].join('; ');
}

function listText(places: readonly SettingPlace[]): string {
  const names = [...new Set(places.map(placeText))];
  const more = names.length - mostShown;
  return more > 0 ? `${names.slice(0, mostShown).join('; ')} and ${more} more` : names.join('; ');
}

function placeText({ setting, item, instance, scope }: SettingPlace): string {
  const narrow = Object.keys(scope).length === 0 ? '' : `, ${scopeText(scope)}`;
  return visible(`${setting}${item === undefined ? '' : ` ${item}`} on ${instance}${narrow}`);
}

function samePlace(a: SettingPlace, b: SettingPlace): boolean {
  return placeText(a) === placeText(b);
}
