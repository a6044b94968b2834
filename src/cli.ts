import { spawnSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { homedir } from 'node:os';
import { relative, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { Command, CommanderError, Option } from 'commander';
import { visible } from './diagnostics/visible.ts';
import { nodeDisk } from './files/node-disk.ts';
import { nodeFiles } from './files/node.ts';
import { watchFolders } from './files/watch-node.ts';
import { hostPath } from './model/paths.ts';
import type { ExitStatus, GitAnswer, Options, Shell, VerbSpec } from './verbs/contract.ts';
import { laidOut, mainHelp, taskHelp, version } from './verbs/help.ts';
import { verbs } from './verbs/list.ts';

/** NO_COLOR: https://no-color.org — set to anything but the empty text, it turns colour off. */
function takesColour(stream: NodeJS.WriteStream): boolean {
  const off = process.env['NO_COLOR'];
  return stream.isTTY && (off === undefined || off === '') && process.env['TERM'] !== 'dumb';
}

/** One line from the terminal. What is typed to a hidden question is not shown. */
function ask(question: string, hidden: boolean): Promise<string | undefined> {
  if (!process.stdin.isTTY) return Promise.resolve(undefined);
  process.stderr.write(question);
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({
    input: process.stdin,
    output: hidden ? silent : process.stderr,
    terminal: true,
  });
  return new Promise((answer) => {
    // The end of the input (Ctrl-D) and Ctrl-C are no answer.
    let told: string | undefined;
    lines.once('line', (line) => {
      told = line;
      lines.close();
    });
    lines.once('close', () => {
      if (hidden || told === undefined) process.stderr.write('\n');
      answer(told);
    });
  });
}

/** Objects that a partial clone lacks are not fetched; nothing that a repository configures is run. */
function runGit(folder: string, args: readonly string[]): GitAnswer {
  const ran = spawnSync('git', ['-c', 'core.fsmonitor=false', ...args], {
    cwd: folder,
    env: { ...process.env, GIT_NO_LAZY_FETCH: '1', GIT_OPTIONAL_LOCKS: '0', GIT_TERMINAL_PROMPT: '0' },
    maxBuffer: 256 * 1024 * 1024,
    windowsHide: true,
  });
  if (ran.error !== undefined && 'code' in ran.error && ran.error.code === 'ENOENT') return { kind: 'absent' };
  return { kind: 'ran', status: ran.status ?? 1, out: ran.stdout, said: ran.stderr.toString() };
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // A process of somebody else's is alive as well.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

function makeShell(): Shell {
  const here = process.cwd();
  return {
    files: nodeFiles,
    disk: nodeDisk,
    here: hostPath(here),
    out: (text) => void process.stdout.write(text),
    say: (text) => void process.stderr.write(text),
    colour: { out: takesColour(process.stdout), say: takesColour(process.stderr) },
    // A terminal that does not know its width says 0.
    width: Math.max(40, process.stderr.columns || process.stdout.columns || Number(process.env['COLUMNS']) || 80),
    path: (written) => hostPath(resolve(here, written)),
    // What lies far outside is shown as it is: a row of dots tells nothing.
    show: (path) => visible(relative(here, path).startsWith('../..') ? path : relative(here, path)) || '.',
    ask: (question, hidden) => ask(question, hidden === 'hidden'),
    environment: new Map(
      Object.entries(process.env).flatMap(([name, value]) => (value === undefined ? [] : [[name, value] as const])),
    ),
    home: homedir() === '' ? undefined : hostPath(homedir()),
    stamp: () => `${new Date().toISOString().slice(0, 19)}Z`,
    token: () => randomBytes(8).toString('hex'),
    git: runGit,
    pid: process.pid,
    isAlive,
    watch: (folders, changed) =>
      new Promise((done) => {
        const end = watchFolders(folders, changed);
        process.once('SIGINT', () => {
          end();
          done();
        });
      }),
  };
}

/** Our notation (`--out DIR`, `NAME`) in commander's: what is not optional goes between angle brackets. */
function marked(text: string): string {
  return text.replace(/(^|\s)([A-Z]+(?:\.{3})?)(?=\s|$)/g, '$1<$2>');
}

function addVerb(program: Command, verb: VerbSpec, shell: Shell, finish: (status: ExitStatus) => void): void {
  const command = program
    .command(`${verb.name} ${marked(verb.arguments)}`.trim())
    .summary(verb.summary)
    .description(verb.help)
    .configureHelp({ boxWrap: (text, width) => laidOut(text, Math.min(width, 100)) });
  for (const option of verb.options) {
    const made = new Option(marked(option.flags), option.says);
    if (option.many === true)
      made.argParser((value: string, before: readonly string[] | undefined) => [...(before ?? []), value]);
    command.addOption(made);
  }
  command.action(async (...given: unknown[]) => {
    const args = given
      .slice(0, -2)
      .flatMap((arg) => (Array.isArray(arg) ? arg.map(String) : typeof arg === 'string' ? [arg] : []));
    const { run } = await verb.load();
    finish(await run(shell, args, command.opts<Options>()));
  });
}

async function main(argv: readonly string[]): Promise<ExitStatus> {
  const shell = makeShell();
  let status: ExitStatus = 0;
  const program = new Command('thumbwright');
  program.exitOverride().configureOutput({
    writeOut: (text) => shell.out(text),
    writeErr: (text) => shell.say(text),
    outputError: (text, write) =>
      write(`${text.replace(/^error: /, 'thumbwright: ').trimEnd()}\nSee: thumbwright help\n`),
  });
  program.helpOption('-h, --help', 'help');
  program.version(version, '-V, --version');
  program.helpCommand(false);
  program.showSuggestionAfterError(true);
  program.addHelpText('before', '');
  program.helpInformation = () => mainHelp(verbs);
  program
    .command('help [SUBJECT...]')
    .summary('help on a verb, a task, a setting or a finding')
    .action((subject: readonly string[]) => {
      const told = subject.length === 0 ? mainHelp(verbs) : taskHelp(subject.join(' '), program);
      if (told === undefined) {
        shell.say(`thumbwright: nothing is known about ${JSON.stringify(subject.join(' '))}.\nSee: thumbwright help\n`);
        status = 2;
      } else shell.out(told);
    });
  for (const verb of verbs) {
    addVerb(program, verb, shell, (given) => {
      status = given;
    });
  }
  if (argv.length === 0) {
    shell.out(mainHelp(verbs));
    return 2;
  }
  try {
    await program.parseAsync(argv, { from: 'user' });
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    throw error;
  }
  return status;
}

/** A reader that has seen enough (`| head`) is no failure. */
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exitCode = error.code === 'EPIPE' ? 0 : 3;
});

main(process.argv.slice(2)).then(
  (status) => {
    process.exitCode = status;
  },
  (error: unknown) => {
    const what = error instanceof Error ? error.message : String(error);
    process.stderr.write(`thumbwright: ${what}\nPlease report it, with the files that led here; nothing was lost.\n`);
    if (process.env['THUMBWRIGHT_DEBUG'] !== undefined && error instanceof Error)
      process.stderr.write(`${error.stack ?? ''}\n`);
    process.exitCode = 3;
  },
);
