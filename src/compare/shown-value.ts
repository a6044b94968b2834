import { describeValue } from '../model/describe-value.ts';
import type { DeviceControls } from '../model/device.ts';
import type { Press, Value } from '../model/value.ts';
import { printQuantity } from '../vocabulary/units.ts';
import type { Position } from '../vocabulary/positions.ts';

/** `trigger-left (L2)`: where it is, and what is printed there. */
export function shownControl(position: Position, controls: DeviceControls): string {
  const label = controls.controls.get(position)?.label;
  return label === undefined ? position : `${position} (${label})`;
}

function shownPress(press: Press, controls: DeviceControls): string {
  switch (press.kind) {
    case 'with-hold':
      return `hold with ${shownControl(press.position, controls)}`;
    case 'alone':
      return `${shownControl(press.position, controls)} alone`;
    case 'chord':
      return press.positions.map((position) => shownControl(position, controls)).join(' with ');
  }
}

/** A value in few words, controls with their labels. A secret is named, never shown. */
export function shownValue(value: Value, controls: DeviceControls): string {
  switch (value.kind) {
    case 'control':
      return shownControl(value.position, controls);
    case 'press':
      return shownPress(value.press, controls) + (value.while === 'press' ? '' : `, ${value.while}`);
    case 'quantity':
      return printQuantity(value.amount, value.measure);
    case 'networks':
      return value.networks.length === 0
        ? 'an empty list'
        : value.networks
            .map(({ name, password, hidden }) => {
              const how = [password === undefined ? 'open' : `secret:${password}`, ...(hidden ? ['hidden'] : [])];
              return `${name} (${how.join(', ')})`;
            })
            .join(', ');
    default:
      return describeValue(value);
  }
}
