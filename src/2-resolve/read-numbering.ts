import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { Numbering } from '../model/device.ts';
import type { Place } from '../text/place.ts';

const orders = ['sdl', 'kernel-joystick', 'w3c', 'code', 'name', 'position', 'table'] as const;

function member(written: object, name: string): unknown {
  return Object.entries(written).find(([key]) => key === name)?.[1];
}

/** A numbering as written in a dialect or an instance: a word, or `{ order, version, udev, table }`. */
export function readNumbering(written: unknown, place: Place): Outcome<Numbering | undefined> {
  const order = typeof written === 'object' && written !== null ? member(written, 'order') : written;
  const known = orders.find((name) => name === order);
  if (known === undefined) {
    const near = nearestNames(String(order), orders)[0];
    return {
      value: undefined,
      findings: [
        makeFinding('wrong-value', {
          place,
          detail: `No numbering of controls is called ${JSON.stringify(order)}.`,
          wayOut: near === undefined ? `Write one of ${orders.join(', ')}.` : `Write ${near}.`,
        }),
      ],
    };
  }
  const options = typeof written === 'object' && written !== null ? written : {};
  if (known === 'sdl') {
    const version = member(options, 'version');
    return {
      value: {
        order: 'sdl',
        version: typeof version === 'string' ? version : '2.28',
        udev: member(options, 'udev') !== false,
      },
      findings: [],
    };
  }
  if (known === 'table') {
    const table = member(options, 'table');
    const words =
      typeof table === 'object' && table !== null
        ? Object.entries(table).map(([position, word]) => [position, String(word)] as const)
        : [];
    return { value: { order: 'table', table: Object.fromEntries(words) }, findings: [] };
  }
  return { value: { order: known }, findings: [] };
}
