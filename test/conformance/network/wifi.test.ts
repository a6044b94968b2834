// Outside: NetworkManager's own `nmcli --offline` (Debian package network-manager), which writes and reads keyfiles without
// a daemon (nmcli(1), nm-settings-keyfile(5)), and wpa_supplicant's `wpa_passphrase` (Debian package wpasupplicant).
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import type { Network } from '../../../src/model/value.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';
import { smallContext } from '../../support/dialect/small-context.ts';
import { requireTool } from '../../support/tool.ts';

const noNmcli = requireTool('nmcli', 'network-manager');
const noPassphrase = requireTool('wpa_passphrase', 'wpasupplicant');
/** A program is started for each: few by default. */
const runs = Math.min(Number(process.env['THUMBWRIGHT_RUNS'] ?? 25), 500);

const folder = 'test/cases/secrets-written/_world/profiles/dialects';
const document = dialectDocument(readFileSync(join(folder, 'dipper.yaml'), 'utf8'));
const templates = new Map(
  ['wifi.hbs', 'supplicant.hbs'].map((name) => [
    name,
    { name, text: readFileSync(join(folder, 'dipper', name), 'utf8') },
  ]),
);

/** What is written for one network whose password, if it has one, is this: the keyfile, and wpa_supplicant's file. */
function written(name: string, password: string | undefined, hidden: boolean): readonly [string, string] {
  const network: Network = { name, hidden, ...(password === undefined ? {} : { password: 'room' }) };
  const lens = makeLens(smallContext(document, { templates, secretValue: () => password }), syntaxes).value;
  const made = lens
    .wholeFiles((id) => (id === 'network.networks' ? { kind: 'networks', networks: [network] } : undefined), {})
    .map((whole) => {
      if (whole.made.kind !== 'text') throw new Error(whole.made.why);
      return whole.made.text;
    });
  return [made[0] ?? '', made[1] ?? ''];
}

function nmcli(args: readonly string[], input = ''): string {
  const { stdout, stderr, status } = spawnSync('nmcli', ['--offline', 'connection', ...args], {
    input,
    encoding: 'utf8',
    env: { ...process.env, LC_ALL: 'C.UTF-8' },
  });
  if (status !== 0) throw new Error(`nmcli: ${stderr}`);
  return stdout;
}

/** Names as routers have them: 1 to 32 bytes of UTF-8, no control characters. */
const piece = fc.constantFrom(
  'a',
  'Z',
  '7',
  ' ',
  '"',
  "'",
  '\\',
  ';',
  '#',
  '=',
  '[',
  ']',
  'é',
  'ß',
  '中',
  '😀',
  '%',
  '$',
);
const names = fc
  .oneof(
    fc.constantFrom('Reading Room', 'a\\;b', '65;66;', ' lead', 'trail ', '"q"', '[x]', '#x', 'A"quoted', 'Café', '  '),
    fc.array(piece, { minLength: 1, maxLength: 12 }).map((all) => all.join('')),
  )
  .filter((name) => Buffer.byteLength(name) <= 32);
const passwords = fc
  .oneof(
    fc.constantFrom('ThisIsAPassword', ' p;a=s\\s"w#1 ', 'pass"word\\12', 'pässword12', 'ends in \\\\ ', '        '),
    fc.array(piece, { minLength: 8, maxLength: 40 }).map((all) => all.join('')),
  )
  .filter((text) => Buffer.byteLength(text) >= 8 && Buffer.byteLength(text) <= 63);

describe('Wi-Fi as NetworkManager has it', () => {
  it.skipIf(noNmcli)('a keyfile means what nmcli makes of the same name and password', () => {
    fc.assert(
      fc.property(names, fc.option(passwords, { nil: undefined }), fc.boolean(), (name, password, hidden) => {
        const [ours] = written(name, password, hidden);
        const uuid = /^uuid=(.*)$/m.exec(ours)?.[1] ?? '';
        const theirs = nmcli([
          ...['add', 'type', 'wifi', 'con-name', name, 'ssid', name, 'connection.uuid', uuid],
          ...(password === undefined ? [] : ['wifi-sec.key-mgmt', 'wpa-psk', 'wifi-sec.psk', password]),
          ...(hidden ? ['wifi.hidden', 'yes'] : []),
        ]);
        // Read by NetworkManager and printed in its own form; the change is none.
        expect(nmcli(['modify', 'connection.uuid', uuid], ours)).toBe(theirs);
      }),
      { numRuns: runs },
    );
  });
});

/** What wpa_supplicant reads: a text up to the last quote of the line, or hexadecimal digits (wpa_supplicant.conf(5)). */
function ssidIn(block: string): string {
  const line = /^\s*ssid=(.*)$/m.exec(block)?.[1] ?? '';
  return line.startsWith('"') ? line.slice(1, line.lastIndexOf('"')) : Buffer.from(line, 'hex').toString('utf8');
}

function pskIn(block: string): string | undefined {
  return /^\s*psk=([0-9a-f]{64})$/m.exec(block)?.[1];
}

describe('Wi-Fi as wpa_supplicant has it', () => {
  it.skipIf(noPassphrase)('a network block means what wpa_passphrase makes of the same name and password', () => {
    fc.assert(
      fc.property(names, passwords, (name, password) => {
        const [, ours] = written(name, password, false);
        const { stdout, status } = spawnSync('wpa_passphrase', [name, password], { encoding: 'utf8' });
        expect(status).toBe(0);
        expect(pskIn(ours)).toBe(pskIn(stdout));
        expect(pskIn(ours)).toBeDefined();
        expect(ssidIn(ours)).toBe(ssidIn(stdout));
        expect(ssidIn(ours)).toBe(name);
        expect(ours).not.toContain(password);
      }),
      { numRuns: runs },
    );
  });

  it('an open network has no key, a hidden one is asked for by name, and no quoted name holds a quote', () => {
    const [keyfile, open] = written('Yard', undefined, true);
    expect(open).toContain('\tscan_ssid=1\n\tkey_mgmt=NONE\n');
    expect(open).not.toContain('psk');
    expect(keyfile).not.toContain('[wifi-security]');
    expect(written('A"quoted', 'long enough', false)[1]).toContain(
      `\tssid=${Buffer.from('A"quoted').toString('hex')}\n`,
    );
  });
});
