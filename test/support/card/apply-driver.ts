import { existsSync, readlinkSync } from 'node:fs';
import { apply } from '../../../src/5-apply/apply.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import { nodeDisk } from '../../../src/files/node-disk.ts';
import { inputAt } from '../apply-world.ts';
import { driverRecord, driverWorks } from './driver-works.ts';

// A write (or undo) of a real folder, by a process of its own that a system-call injector can kill: DRIVER write|undo FOLDER
const [, , verb = '', folder = ''] = process.argv;
// The injector counts the calls of its kind from here: see real-kill.test.ts.
try {
  readlinkSync('/marker-of-the-driver');
} catch {
  if (existsSync('/marker-of-the-driver')) throw new Error('the marker must not be there');
}
const input = { ...inputAt(nodeDisk, driverWorks, driverRecord, folder), pid: process.pid };
const { value } = verb === 'undo' ? undo(input) : apply(input);
process.stdout.write(`${JSON.stringify(value)}\n`);
