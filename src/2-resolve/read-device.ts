import type { Capture } from '../controls/capture/capture.ts';
import { readControls } from '../controls/read-controls.ts';
import { findReference } from '../controls/resolve-reference.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Part } from '../model/device.ts';
import type { Device, ReservedChord } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import { parseQuantity } from '../vocabulary/units.ts';
import type { Facts } from './merge-facts.ts';

/** The device as the layers describe it. `id` is the profile's, `capture` what its capture file says. */
export function readDevice(facts: Facts, id: string, capture?: Capture): Outcome<Device> {
  const { device } = facts;
  const controls = readControls(
    device.controls ?? {},
    {
      place: (path) => facts.place(['device', 'controls', ...path]),
      keyPlace: (path) => facts.keyPlace(['device', 'controls', ...path]),
    },
    capture,
  );
  // A code that is misspelt in the list is then missing from it: that is the same mistake.
  const misspelt = controls.findings.some((finding) => finding.code === 'unknown-event-code');
  const follows: ReadonlySet<string> = new Set(['code-not-sent', 'control-sends-nothing']);
  const findings: Finding[] = controls.findings.filter((finding) => !misspelt || !follows.has(finding.code));
  const parts = new Map<string, Part>();

  for (const [name, written] of Object.entries(device.parts ?? {})) {
    const bytes = (member: 'capacity' | 'allocation-unit'): number | undefined => {
      const text = written[member];
      if (text === undefined || text === 'unknown') return undefined;
      const amount = parseQuantity(text, 'size');
      if (amount.kind === 'amount') return amount.amount;
      findings.push(
        makeFinding('wrong-value', {
          place: facts.place(['device', 'parts', name, member]),
          detail: `${member}: ${amount.why}.`,
          wayOut: amount.wayOut,
        }),
      );
      return undefined;
    };
    const capacity = bytes('capacity');
    const allocationUnit = bytes('allocation-unit');
    parts.set(name, {
      name,
      ...(written.filesystem === undefined ? {} : { filesystem: written.filesystem }),
      ...(capacity === undefined ? {} : { capacity }),
      ...(allocationUnit === undefined ? {} : { allocationUnit }),
      ...(written['mounted-at'] === undefined ? {} : { mountedAt: written['mounted-at'] }),
      ...(written['games-root'] === undefined ? {} : { gamesRoot: written['games-root'] }),
      ...(written['firmware-root'] === undefined ? {} : { firmwareRoot: written['firmware-root'] }),
      ...(written['survives-reimage'] === undefined ? {} : { survivesReimage: written['survives-reimage'] }),
    });
  }

  const reserved: ReservedChord[] = [];
  (device.reserved ?? []).forEach((chord, index) => {
    const positions: Position[] = [];
    chord.press.forEach((reference, k) => {
      const found = findReference(reference, controls.value);
      if (found.kind === 'found') positions.push(found.position);
      else {
        findings.push(
          makeFinding('control-missing', {
            place: facts.place(['device', 'reserved', index, 'press', k]),
            detail: `The reserved chord asks for ${found.as}, which this device does not have.`,
            wayOut:
              found.several.length > 0
                ? `Name it by position: ${found.several.join(' or ')}.`
                : found.nearest.length > 0
                  ? `Write ${found.nearest.join(' or ')}.`
                  : 'Write a control that the device has, or list it under device.controls.',
          }),
        );
      }
    });
    if (positions.length === chord.press.length) {
      reserved.push({
        positions,
        does: chord.does,
        loses: chord.loses ?? [],
        place: facts.place(['device', 'reserved', index]),
      });
    }
  });

  return {
    value: {
      id,
      name: facts.name ?? id,
      body: device.body,
      hands: device.hands ?? {},
      performance: device.performance,
      wifi: device.wifi,
      parts,
      controls: controls.value,
      reserved,
    },
    findings,
  };
}
