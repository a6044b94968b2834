import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Decision } from '../../model/resolved.ts';
import { firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** A save or state folder on a part of the card that imaging the system anew wipes. */
export const saveFolderWiped: Rule = {
  name: 'save-folder-wiped',
  codes: ['saves-wiped-by-reimage'],
  check({ resolved }) {
    const safe = [...resolved.device.parts.values()]
      .filter((part) => part.survivesReimage === true)
      .map((part) => part.name);
    const found: (Decision & { part: string })[] = [];
    for (const instance of players(resolved)) {
      for (const setting of ['saves.save-folder', 'saves.state-folder']) {
        const decision = resolved.decide(instance, setting, {});
        if (decision?.value.kind !== 'place' || safe.includes(decision.value.part)) continue;
        found.push({ ...decision, part: decision.value.part });
      }
    }
    return firstByOrigin(found).map((decision) =>
      makeFinding('saves-wiped-by-reimage', {
        place: decision.origin.place,
        setting: decision.setting,
        about: [decision.part],
        detail: `The folder is on the part ${decision.part}, which does not survive imaging the system anew: an update of that kind takes all saves with it.`,
        wayOut:
          safe.length > 0
            ? `Put it on ${safe.join(' or ')}, or write survives-reimage: true under the part if it does survive.`
            : 'Write survives-reimage: true under the part that does survive, and put the folder there.',
      }),
    );
  },
};
