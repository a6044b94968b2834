import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { decidedAnywhere, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Saves that stay in memory are lost with the power: on devices switched off at the button, and in some cores. */
export const savesWritten: Rule = {
  name: 'saves-written',
  codes: ['saves-not-written', 'core-writes-on-its-own'],
  check({ resolved }) {
    const findings: Finding[] = [];
    const press = decidedAnywhere(resolved, 'power.short-press');
    const off = press?.value.kind === 'word' && press.value.word === 'off' ? press : undefined;
    for (const instance of players(resolved)) {
      const every = resolved.decide(instance, 'saves.write-save-every', {});
      const never = every === undefined || (every.value.kind === 'word' && every.value.word === 'never');
      if (off !== undefined && never) {
        findings.push(
          makeFinding('saves-not-written', {
            place: every?.origin.place ?? instance.place,
            related: [{ place: off.origin.place, note: 'the button switches the device off' }],
            setting: 'saves.write-save-every',
            instance: instance.name,
            detail: `${instance.name} keeps a game's save in memory until the game is left, and this device is switched off at the button: what was saved in the game since is lost.`,
            wayOut: 'Set saves.write-save-every: 10 s.',
          }),
        );
      }
      if (never || every === undefined) continue;
      const own = [...(instance.cores?.keys() ?? [])].filter(
        (core) => resolved.catalog?.data.cores?.[core]?.saves?.['own-writer'] === true,
      );
      if (own.length === 0) continue;
      findings.push(
        makeFinding('core-writes-on-its-own', {
          place: every.origin.place,
          setting: 'saves.write-save-every',
          instance: instance.name,
          about: own,
          detail: `${own.join(' and ')} in ${instance.name} ${own.length === 1 ? 'writes saves in its' : 'write saves in their'} own way, and saves.write-save-every does not reach them.`,
          wayOut: 'Where they run, leave the game by its menu or the exit hotkey before switching off.',
        }),
      );
    }
    return findings;
  },
};
