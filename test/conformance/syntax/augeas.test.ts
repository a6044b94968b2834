// Augeas (augtool with its own lenses, Debian packages augeas-tools and augeas-lenses) as a second opinion on real
// general-purpose files that every Debian has: we set keys, Augeas reads what they hold now.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Style, Syntax } from '../../../src/syntax/contract.ts';
import { ini } from '../../../src/syntax/ini/ini.ts';
import { pairs } from '../../../src/syntax/pairs/pairs.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { requireTool } from '../../support/tool.ts';

interface RealFile {
  /** Where it lies on a Debian machine, and below the root that Augeas is given. */
  readonly path: string;
  /** The Debian package that brings it. */
  readonly from: string;
  readonly lens: string;
  readonly syntax: Syntax;
  readonly style: Style;
  /** Our key path, the value to set, and Augeas's path below the file. Present, commented out and missing keys. */
  readonly sets: readonly (readonly [key: string, value: string, node: string])[];
}

const shell: Style = { separator: '=', comment: '#', quote: 'keep' };
const unit: Style = { separator: '=', quote: 'none' };
const files: readonly RealFile[] = [
  {
    path: '/etc/login.defs',
    from: 'login',
    lens: 'Login_defs',
    syntax: pairs,
    style: { separator: ' ', comment: '#', quote: 'none' },
    sets: [
      ['UMASK', '027', 'UMASK'],
      ['UID_MAX', '59999', 'UID_MAX'],
      ['SYS_UID_MIN', '101', 'SYS_UID_MIN'],
      ['PASS_MIN_LEN', '9', 'PASS_MIN_LEN'],
    ],
  },
  {
    path: '/etc/sysctl.conf',
    from: 'procps',
    lens: 'Sysctl',
    syntax: pairs,
    style: { comment: ['#', ';'], quote: 'none' },
    sets: [
      ['net.ipv4.ip_forward', '1', 'net.ipv4.ip_forward'],
      ['kernel.printk', '3 4 1 3', 'kernel.printk'],
      ['vm.swappiness', '10', 'vm.swappiness'],
    ],
  },
  {
    path: '/etc/adduser.conf',
    from: 'adduser',
    lens: 'Shellvars',
    syntax: pairs,
    style: shell,
    sets: [
      ['DSHELL', '/bin/sh', 'DSHELL'],
      ['FIRST_UID', '2000', 'FIRST_UID'],
    ],
  },
  {
    path: '/etc/deluser.conf',
    from: 'adduser',
    lens: 'Shellvars',
    syntax: pairs,
    style: shell,
    sets: [
      ['REMOVE_HOME', '1', 'REMOVE_HOME'],
      ['BACKUP_TO', '/var/backups', 'BACKUP_TO'],
    ],
  },
  {
    path: '/etc/e2scrub.conf',
    from: 'e2fsprogs',
    lens: 'Shellvars',
    syntax: pairs,
    style: shell,
    sets: [
      ['periodic_e2scrub', '1', 'periodic_e2scrub'],
      ['snap_size_mb', '512', 'snap_size_mb'],
    ],
  },
  {
    path: '/etc/default/useradd',
    from: 'passwd',
    lens: 'Shellvars',
    syntax: pairs,
    style: shell,
    sets: [
      ['SHELL', '/bin/dash', 'SHELL'],
      ['INACTIVE', '30', 'INACTIVE'],
    ],
  },
  {
    path: '/usr/lib/os-release',
    from: 'base-files',
    lens: 'Shellvars',
    syntax: pairs,
    style: shell,
    sets: [
      ['NAME', 'Two words', 'NAME'],
      ['VERSION_CODENAME', 'plain', 'VERSION_CODENAME'],
    ],
  },
  {
    path: '/etc/selinux/semanage.conf',
    from: 'libsemanage-common',
    lens: 'Simplevars',
    syntax: pairs,
    style: { separator: '=', comment: '#', quote: 'none' },
    sets: [
      ['expand-check', '1', 'expand-check'],
      ['save-previous', 'true', 'save-previous'],
    ],
  },
  {
    path: '/lib/systemd/system/apt-daily.service',
    from: 'apt',
    lens: 'Systemd',
    syntax: ini,
    style: unit,
    sets: [
      ['[Unit] ConditionACPower', 'false', 'Unit/ConditionACPower/value'],
      ['[Service] Type', 'exec', 'Service/Type/value'],
      ['[Install] WantedBy', 'multi-user.target', 'Install/WantedBy/value'],
    ],
  },
  {
    path: '/lib/systemd/system/e2scrub_all.timer',
    from: 'e2fsprogs',
    lens: 'Systemd',
    syntax: ini,
    style: unit,
    sets: [
      ['[Timer] RandomizedDelaySec', '90', 'Timer/RandomizedDelaySec/value'],
      ['[Unit] Documentation', 'man:none', 'Unit/Documentation/value'],
    ],
  },
];

function setKeys({ syntax, style, path, sets }: RealFile): string {
  const source = { name: path, text: decodeBytes(readFileSync(path)) };
  const { tree } = syntax.parse(source, style);
  if (tree === undefined) throw new Error(`${path} cannot be read.`);
  const { edits, results } = syntax.change(
    tree,
    sets.map(([key, value]) => ({ op: 'set', path: key, value: { kind: 'scalar', text: value } })),
  );
  expect([path, results.map(({ kind }) => kind)]).toEqual([path, sets.map(() => 'changed')]);
  return applyEdits(source.text, edits);
}

/** What Augeas reads at each node: `node = value`, or its complaint. */
function readByAugeas(root: string, held: readonly RealFile[]): readonly string[] {
  const transforms = held.flatMap(({ lens, path }) => ['--transform', `${lens}.lns incl ${path}`]);
  const asked = held.flatMap(({ path, sets }) => sets.map(([, , node]) => `get /files${path}/${node}`));
  const { stdout, error } = spawnSync('augtool', ['--noautoload', '-r', root, ...transforms], {
    input: ['load', ...asked, 'print /augeas//error', ''].join('\n'),
    encoding: 'utf8',
  });
  if (error !== undefined) throw error;
  return stdout.split('\n').filter((line) => line !== '');
}

describe('Augeas', () => {
  it.skipIf(requireTool('augtool', 'augeas-tools'))('reads in real files what we set there', () => {
    const root = mkdtempSync(join(tmpdir(), 'thumbwright-augeas-'));
    try {
      const held = files.filter(({ path }) => existsSync(path));
      for (const file of held) {
        mkdirSync(dirname(join(root, file.path)), { recursive: true });
        writeFileSync(join(root, file.path), encodeText(setKeys(file)));
      }
      const wanted = held.flatMap(({ path, sets }) =>
        sets.map(([, value, node]) => {
          // Shellvars gives a value with its quotes.
          const quoted = value === 'Two words' ? `"${value}"` : value;
          return `/files${path}/${node} = ${quoted}`;
        }),
      );
      expect(readByAugeas(root, held)).toEqual(wanted);
      expect(held.length).toBeGreaterThanOrEqual(8);
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  });
});
