import { settingById } from '../vocabulary/registry.ts';
import { placeKey } from './difference.ts';
import { sameValue } from '../model/value.ts';
import type { Network } from '../model/value.ts';
import type { CardNetwork, Difference } from './difference.ts';
import type { Wanted, Wish } from './wanted.ts';
import type { World } from './world.ts';

/** A difference that is not carried into the profile, and why. */
export interface Left {
  readonly difference: Difference;
  /** A clause, lower case, no full stop. */
  readonly why: string;
  /** An imperative. */
  readonly wayOut: string;
}

/** By `placeKey`: what an update put back to stock, and what a frontend made of a password that it took in. */
export type NotByHand = ReadonlyMap<string, 'reset' | 'consumed'>;

/** A secret's text. Never shown. */
export interface SecretFound {
  readonly name: string;
  readonly text: string;
}

export interface WantedOf {
  readonly wanted: readonly Wanted[];
  readonly left: readonly Left[];
  readonly secretsFound: readonly SecretFound[];
}

interface Circumstances {
  readonly world: World;
  readonly only: ReadonlySet<string> | undefined;
  readonly secretText: (name: string) => string | undefined;
  readonly notByHand: NotByHand;
}

/**
 * What the profile is to say for each difference; those that one line set, and that the card has alike, together.
 * Secrets are given names here.
 */
export function wantedOf(differences: readonly Difference[], about: Circumstances): WantedOf {
  const left: Left[] = [];
  const secrets = new Map<string, string>();
  const groups = new Map<string, { to: Wish; targets: Difference[] }>();
  for (const difference of differences) {
    const other = about.only?.has(difference.setting) === true ? undefined : about.notByHand.get(placeKey(difference));
    if (other === undefined && difference.onCard.kind === 'networks')
      left.push(...otherPasswords(difference, difference.onCard.networks, about));
    const wish = other === undefined ? wishOf(difference, about, secrets) : notChanged[other];
    if (wish === 'settled') continue;
    if ('why' in wish) {
      left.push({ difference, ...wish });
      continue;
    }
    const { setting, item, scope, decision } = difference;
    const place = decision?.origin.place;
    const key = JSON.stringify([
      setting,
      item,
      decision === undefined ? [scope.core, scope.system, scope.game] : [place?.source.name, place?.span.start],
      wish,
    ]);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { to: wish, targets: [difference] });
    else known.targets.push(difference);
  }
  const wanted = [...groups.values()].flatMap(({ to, targets }): Wanted[] => {
    const [first] = targets;
    if (first === undefined) return [];
    const { setting, item } = first;
    return [
      { setting, ...(item === undefined ? {} : { item }), to, targets, rawIds: rawIds(to, targets, about.world) },
    ];
  });
  return { wanted, left, secretsFound: [...secrets].map(([name, text]) => ({ name, text })) };
}

const notChanged: Readonly<Record<'reset' | 'consumed', Pick<Left, 'why' | 'wayOut'>>> = {
  reset: {
    why: 'an update put it back to stock',
    wayOut: 'Write the profile again with thumbwright write; to take the stock value, name the setting with --only.',
  },
  consumed: {
    why: 'the frontend made something of its own of the password',
    wayOut: 'Leave it alone.',
  },
};

function rawIds(to: Wish, targets: readonly Difference[], world: World): readonly string[] {
  if (to.kind !== 'raw') return [];
  return targets.flatMap(({ instance }) =>
    to.keys.map(({ file, key }) => JSON.stringify([world.lenses.get(instance)?.path(file, {}), key])),
  );
}

function wishOf(
  difference: Difference,
  about: Circumstances,
  secrets: Map<string, string>,
): Wish | 'settled' | Pick<Left, 'why' | 'wayOut'> {
  const { onCard, setting, instance, scope, decision } = difference;
  switch (onCard.kind) {
    case 'value':
      return { kind: 'value', value: onCard.value };
    case 'gone':
      return { kind: 'clear' };
    case 'half-changed':
      return {
        why: `some of the keys that say it together were changed and others not (${onCard.keys.map(({ key }) => key).join(', ')})`,
        wayOut: 'Change it once more on the device, or write the card anew.',
      };
    case 'networks':
      return networksWish(difference, onCard.networks, about, secrets);
    case 'unreadable':
      return rawWish(onCard.keys, difference, about);
    case 'secret': {
      const known = decision?.value.kind === 'secret' ? decision.value.name : undefined;
      const name = known ?? freshName(setting, onCard.text, about, secrets);
      const text = secrets.get(name) ?? about.secretText(name);
      if (known !== undefined && text !== undefined && text !== onCard.text && about.only?.has(setting) !== true) {
        return {
          why: `the card holds another text than secret:${known}, maybe one that ${instance} made of it${scope.system === undefined ? '' : ` for ${scope.system}`}`,
          wayOut: `If the text on the card is the new secret, take it with --only ${setting}.`,
        };
      }
      secrets.set(name, onCard.text);
      return known === undefined ? { kind: 'value', value: { kind: 'secret', name } } : 'settled';
    }
  }
}

/** Whether the card's password is another one than the secret that the profile names, and is not asked for. */
function isOther({ text, secret }: CardNetwork, { setting }: Difference, about: Circumstances): boolean {
  const known = secret === undefined ? undefined : about.secretText(secret);
  return text !== undefined && known !== undefined && text !== known && about.only?.has(setting) !== true;
}

function otherPasswords(
  difference: Difference,
  networks: readonly CardNetwork[],
  about: Circumstances,
): readonly Left[] {
  return networks
    .filter((network) => isOther(network, difference, about))
    .map(({ name, secret = '' }) => ({
      difference,
      why: `the card holds another password of the network ${name} than secret:${secret}`,
      wayOut: `If the one on the card is the new one, take it with --only ${difference.setting}.`,
    }));
}

/** The networks as the profile is to say them; new passwords are named after their network. */
function networksWish(
  difference: Difference,
  networks: readonly CardNetwork[],
  about: Circumstances,
  secrets: Map<string, string>,
): Wish | 'settled' {
  const wanted = networks.map((network): Network => {
    const { name, hidden, text, secret } = network;
    if (text === undefined || isOther(network, difference, about))
      return { name, hidden, ...(secret === undefined ? {} : { password: secret }) };
    const slug = name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '');
    const password = secret ?? freshName(slug === '' ? 'wifi' : `wifi-${slug}`, text, about, secrets);
    secrets.set(password, text);
    return { name, hidden, password };
  });
  const now = difference.decision?.value;
  return now !== undefined && sameValue(now, { kind: 'networks', networks: wanted })
    ? 'settled'
    : { kind: 'value', value: { kind: 'networks', networks: wanted } };
}

/** After the setting; after the device too where that name is taken by another text. */
function freshName(setting: string, text: string, about: Circumstances, secrets: ReadonlyMap<string, string>): string {
  const stem = setting.replaceAll('.', '-');
  const { id } = about.world.compiled.resolved.device;
  const taken = (name: string): boolean => (secrets.get(name) ?? about.secretText(name) ?? text) !== text;
  let name = stem;
  for (let count = 1; taken(name); count++) name = count === 1 ? `${id}-${stem}` : `${id}-${stem}-${count}`;
  return name;
}

function rawWish(
  keys: readonly { readonly file: string; readonly key: string; readonly text: string }[],
  { setting, instance, scope, decision, owned }: Difference,
  { world }: Circumstances,
): Wish | Pick<Left, 'why' | 'wayOut'> {
  const byHand = { wayOut: 'Change it on the device to a value that the profile can say, or write the card anew.' };
  // What the profile does not set is left alone anyhow.
  if (decision === undefined && !owned)
    return { why: 'no value of the setting is spelled so, and the profile does not set it', wayOut: 'Leave it alone.' };
  if (settingById(setting)?.type.kind === 'secret') return { why: 'what stands there is no plain secret', ...byHand };
  if (keys.length === 0 || keys.some(({ key }) => key === ''))
    return { why: 'what stands there cannot be told apart by key', ...byHand };
  if (
    Object.keys(scope).length > 0 ||
    keys.some(({ file }) => world.lenses.get(instance)?.path(file, {}) === undefined)
  )
    return { why: 'no value of the setting is spelled so, and raw keys are for the whole frontend only', ...byHand };
  return { kind: 'raw', keys };
}
