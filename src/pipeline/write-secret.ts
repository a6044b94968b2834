import { readSecrets, secretsFile, secretsPath } from '../1-load/secrets.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import { applyEdits } from '../text/text-edit.ts';
import { setInYaml } from '../yaml-edit/edit-yaml.ts';

const first = '# Secrets, one name and one text on each line. This folder is not committed; keep it to yourself.\n';

/**
 * Puts one secret into `.thumbwright/private/secrets.yaml`, which its owner alone may read; the folder is kept out of
 * version control. Comments and the other secrets stay. Errors: `bad-secrets-file` (nothing is written then),
 * `secrets-file-not-written`. `root`: the workspace's folder.
 */
export function writeSecret(files: Files, root: HostPath, name: string, text: string): readonly Finding[] {
  const path = secretsPath(files, root);
  const before = readSecrets(files, root, new Map());
  const errors = before.findings.filter(({ grade }) => grade === 'error');
  if (errors.length > 0) return errors;
  if (before.value.find(name) === text && files.mode?.(path) === 0o600) return [];
  const ignore = files.join(path, '..', '.gitignore');
  if (files.kind(ignore) === undefined) {
    const ignored = files.write(ignore, encodeText('*\n'));
    if (ignored.kind === 'failed') return [notWritten(ignored.why)];
  }
  const read = files.read(path);
  const old = read.kind === 'bytes' ? decodeBytes(read.bytes) : first;
  const edits = setInYaml({ name: secretsFile, text: old }, [name], text);
  const after = applyEdits(old, edits.value);
  // The place of such a finding would show lines of the file.
  if (edits.findings.some(({ grade }) => grade === 'error'))
    return [
      makeFinding('bad-secrets-file', {
        detail: `${secretsFile} cannot be given the value of ${name}.`,
        wayOut: `Write it by hand, as in: ${name}: 'the password'`,
      }),
    ];
  const written = files.write(path, encodeText(after), 0o600);
  return written.kind === 'failed' ? [notWritten(written.why)] : [];
}

function notWritten(why: string): Finding {
  return makeFinding('secrets-file-not-written', {
    detail: `${secretsFile} cannot be written: ${why}.`,
    wayOut: 'Make room or mend the rights there, or keep the value in the environment.',
  });
}
