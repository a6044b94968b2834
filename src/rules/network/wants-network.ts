import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Decision } from '../../model/resolved.ts';
import { decidedAnywhere } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Settings that do nothing without a network, and when they want one. */
const wanting = [
  { setting: 'achievements.enabled', what: 'achievements', staysOn: true },
  { setting: 'artwork.take', what: 'fetching artwork', staysOn: false },
  { setting: 'network.remote-login', what: 'remote login', staysOn: false },
  { setting: 'network.file-sharing', what: 'file sharing', staysOn: false },
  { setting: 'time.from-network', what: 'the time from the network', staysOn: false },
] as const;

function wants(decision: Decision | undefined): decision is Decision {
  if (decision === undefined) return false;
  const { value } = decision;
  if (value.kind === 'boolean') return value.is;
  if (value.kind === 'words') return value.words.length > 0;
  return value.kind === 'word' && value.word !== 'off';
}

/** What needs a network, on a device that has none, or only a plugged-in adapter. */
export const wantsNetwork: Rule = {
  name: 'wants-network',
  codes: ['no-network-for-this', 'adapter-must-stay'],
  check({ resolved }) {
    const { wifi } = resolved.device;
    if (wifi === undefined || wifi === 'built-in') return [];
    const findings: Finding[] = [];
    for (const { setting, what, staysOn } of wanting) {
      const decision = decidedAnywhere(resolved, setting);
      if (!wants(decision)) continue;
      if (wifi === 'none') {
        findings.push(
          makeFinding('no-network-for-this', {
            place: decision.origin.place,
            setting,
            detail: `This device has no Wi-Fi, so that ${what} can do nothing.`,
            wayOut: `Switch it off for this device in its profile, or write wifi: adapter if one is used.`,
          }),
        );
      } else if (staysOn) {
        findings.push(
          makeFinding('adapter-must-stay', {
            place: decision.origin.place,
            setting,
            detail: `This device reaches a network only through its adapter, which must stay plugged in while playing for ${what}.`,
            wayOut: 'Tell whoever plays to keep the adapter in, or switch it off for this device.',
          }),
        );
      }
    }
    return findings;
  },
};
