import { visible } from '../diagnostics/visible.ts';
import { revisionFiles } from '../files/revision.ts';
import { openProject } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import type { ExitStatus, Shell } from './contract.ts';

/** The workspace as git has it at a revision. Says what is wrong otherwise. */
export function openRevision(shell: Shell, now: Project, revision: string): Project | ExitStatus {
  const { root } = now;
  const stop = (what: string, wayOut: string): ExitStatus => {
    shell.say(`thumbwright: ${what}\n${wayOut}\n`);
    return 2;
  };
  const named = JSON.stringify(visible(revision));
  // Git would take it for an option.
  if (revision === '' || revision.startsWith('-'))
    return stop(`${named} is no revision.`, 'Write a commit, tag or branch behind the @, as in fen@HEAD~1.');
  const inside = shell.git(root, ['rev-parse', '--is-inside-work-tree']);
  if (inside.kind === 'absent')
    return stop('a revision is read by git, which is not installed here.', 'Install git, or compare two profiles.');
  if (inside.status !== 0)
    return stop(
      `${shell.show(root)} is in no git repository, so that it has no revision ${named}.`,
      'Keep the workspace in git (git init, git add, git commit), or compare two profiles.',
    );
  const commit = shell.git(root, ['rev-parse', '--verify', '--quiet', `${revision}^{commit}`]);
  if (commit.kind === 'absent' || commit.status !== 0)
    return stop(`git knows no revision ${named} here.`, 'See which there are:\n  git log --oneline');
  const id = Buffer.from(commit.out).toString('latin1').trim();
  const listed = shell.git(root, ['ls-tree', '-r', '-z', id, '.']);
  const files = new Map<string, string>();
  if (listed.kind === 'ran' && listed.status === 0) {
    for (const entry of Buffer.from(listed.out).toString().split('\0')) {
      // MODE TYPE OBJECT<TAB>PATH (git-ls-tree(1), "Output format"). A link is not followed into a tree of the past.
      const found = /^100[0-7]{3} blob ([0-9a-f]+)\t(.+)$/s.exec(entry);
      if (found?.[1] !== undefined && found[2] !== undefined) files.set(found[2], found[1]);
    }
  }
  if (files.size === 0)
    return stop(
      `nothing of this workspace was in git at ${named}.`,
      'Name a later revision, or commit the profiles first.',
    );
  const past = revisionFiles(shell.files, {
    root,
    files: new Set(files.keys()),
    read(path) {
      const answer = shell.git(root, ['cat-file', 'blob', files.get(path) ?? '']);
      return answer.kind === 'ran' && answer.status === 0 ? answer.out : undefined;
    },
  });
  const opened = openProject(past, root);
  return (
    opened.value ??
    stop(`at ${named} there was no workspace here.`, 'Name a later revision: one with a package.json or .thumbwright/.')
  );
}
