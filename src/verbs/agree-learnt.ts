import type { Learnt, Proposal } from '../pipeline/learn-copies.ts';
import { proposalText } from '../report/learnt-text.ts';
import { isAboutControl } from '../vocabulary/about-control.ts';
import type { ExitStatus, Shell } from './contract.ts';

/** What gets into the dialect: all that is sure, and what a person said yes to. */
export interface Agreed {
  readonly taken: readonly Proposal[];
  /** Whether the section of controls is taken. */
  readonly controls: boolean;
  /** Likely ones that nobody answered for. */
  readonly unasked: number;
}

/** The part of the outside world that asking needs. */
type Talker = Pick<Shell, 'ask' | 'say' | 'width'>;

/** What of a dialect that stands already needs no asking. */
export interface Standing {
  readonly settings: ReadonlySet<string>;
  readonly controls: boolean;
}

/** What `--take` may name besides a setting. */
const all = 'likely';

function isOpen({ open }: Proposal): boolean {
  return open !== undefined;
}

/**
 * All that is sure, and of the rest what was named by `--take`, or else each likely one that a person says yes to. Nobody
 * there: no. What lacks a spelling, or is spelled in the dialect already, is not asked.
 */
export async function agreeLearnt(
  shell: Talker,
  learnt: Learnt,
  standing: Standing,
  take: readonly string[],
): Promise<Agreed | ExitStatus> {
  const strange = take.filter((name) => name !== all && takeable(learnt, name).length !== 1);
  const [first] = strange;
  if (first !== undefined) {
    const many = takeable(learnt, first).length > 1;
    shell.say(
      `thumbwright: --take ${JSON.stringify(first)}: ${many ? 'several keys may be it, and none is likelier' : 'nothing that can be taken is proposed for it'}.\nName a setting of the list, or take all that is likely:\n  --take likely\n`,
    );
    return 2;
  }
  const asking = new Asking(shell, take);
  const taken = learnt.proposals.filter(({ grade }) => grade === 'sure');
  let controls = learnt.controls?.grade === 'sure';
  if (learnt.controls !== undefined && !controls && !standing.controls)
    controls = await asking.take('controls', `Controls: ${learnt.controls.evidence.join('; ')}.`);
  for (const proposal of learnt.proposals) {
    const { setting, grade } = proposal;
    if (grade === 'sure' || isOpen(proposal) || standing.settings.has(setting.id)) continue;
    if (isAboutControl(proposal.setting) && !controls && !standing.controls) continue;
    if (grade === 'possible' && !take.includes(setting.id)) continue;
    if (await asking.take(setting.id, proposalText(proposal, shell.width))) taken.push(proposal);
  }
  return { taken, controls, unasked: asking.unanswered };
}

/** What naming a setting takes: its one likely proposal, or the only possible one. */
function takeable({ proposals, controls }: Learnt, name: string): readonly unknown[] {
  if (name === 'controls') return controls === undefined ? [] : [controls];
  const own = proposals.filter((proposal) => proposal.setting.id === name && !isOpen(proposal));
  const likely = own.filter(({ grade }) => grade !== 'possible');
  return likely.length > 0 ? likely.slice(0, 1) : own;
}

/** One question after the other, until a person has enough of them. */
class Asking {
  unanswered = 0;
  private rest: boolean | undefined;
  /** Nobody answers: the others are not asked either. */
  private gone = false;
  private readonly shell: Talker;
  private readonly names: readonly string[];

  constructor(shell: Talker, names: readonly string[]) {
    this.shell = shell;
    this.names = names;
    if (names.includes(all)) this.rest = true;
    else if (names.length > 0) this.rest = false;
  }

  async take(name: string, what: string): Promise<boolean> {
    if (this.names.includes(name)) return true;
    if (this.rest !== undefined) return this.rest;
    const answer = this.gone
      ? undefined
      : await this.shell.ask(`${what}\nRight? [y]es, [N]o, [a]ll of the rest, [s]top asking: `);
    if (answer === undefined) this.gone = true;
    if (this.gone) {
      this.unanswered += 1;
      return false;
    }
    const word = answer?.trim().toLowerCase() ?? '';
    if (/^a(ll)?$/.test(word)) this.rest = true;
    if (/^s(top)?$/.test(word)) this.rest = false;
    return this.rest ?? /^y(es)?$/.test(word);
  }
}
