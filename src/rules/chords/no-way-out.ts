import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** No chord for exit-game or open-menu, when the text of the stock files or the card shows that the device has none either. */
export const noWayOut: Rule = {
  name: 'no-way-out',
  codes: ['no-way-out'],
  check({ resolved, lens, look }) {
    const findings: Finding[] = [];
    for (const instance of players(resolved)) {
      const own = lens(instance.name);
      const missing = ['exit-game', 'open-menu'].filter((action) => {
        const setting = `hotkeys.bind.${action}`;
        const decision = resolved.decide(instance, setting, {});
        if (decision !== undefined) return decision.value.kind === 'none';
        // Left alone: what the files before us hold counts; a frontend that keeps no such key may well have its own.
        return (
          own?.settings().includes(setting) === true &&
          own.read(setting, {}, look).kind === 'value' &&
          isNone(own.read(setting, {}, look))
        );
      });
      const [action] = missing;
      if (action === undefined) continue;
      const at = resolved.decide(instance, `hotkeys.bind.${action}`, {});
      findings.push(
        makeFinding('no-way-out', {
          place: at?.origin.place ?? instance.place,
          setting: `hotkeys.bind.${action}`,
          instance: instance.name,
          about: missing,
          detail: `On ${instance.name} no hotkey does ${missing.join(' or ')}, and its own files have none either${missing.length === 2 ? ': only switching the device off ends a game' : ''}.`,
          wayOut: `Bind it: hotkeys: { bind: { ${action}: start } }, or another control that is free.`,
        }),
      );
    }
    return findings;
  },
};

function isNone(read: { readonly kind: string; readonly value?: { readonly kind: string } }): boolean {
  return read.value?.kind === 'none';
}
