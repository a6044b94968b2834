import { settingById } from '../vocabulary/registry.ts';
import type { Edit, KeyText } from '../model/compiled.ts';
import type { PlannedChange, PlannedKey, Shown, ShownOrigin } from '../model/plan.ts';
import type { Answer, Held, RecordedKey } from '../model/record.ts';
import { sameText } from '../model/same-text.ts';
import { lineColumn } from '../text/line-index.ts';
import { classifyKey } from './classify-key.ts';
import type { Fate } from './classify-key.ts';
import { classifyLetGo } from './classify-let-go.ts';
import { evidenceOf } from './evidence.ts';
import type { Evidence } from './evidence.ts';
import type { FileTask, OldKey } from './file-task.ts';
import { contentOf, hashedText, sameContent } from './held.ts';
import type { Comparing, Content } from './held.ts';
import type { MergeInput } from './merge-keys.ts';
import type { KeyReader } from './read-keys.ts';
import { spellOut } from './spell-out.ts';
import { keyId, placeIn } from './subject.ts';
import type { Subject } from './subject.ts';

/** Where a value was written, as it may be shown. */
export function shownOrigin({ place, layer }: Edit['origin']): ShownOrigin {
  return { file: place.source.name, line: lineColumn(place.source, place.span.start).line, layer };
}

/** What one key comes to. */
export interface Merged {
  readonly planned: PlannedKey;
  readonly change: PlannedChange | undefined;
  /** For findings about the change. */
  readonly edit: Edit | undefined;
  readonly record: RecordedKey | undefined;
}

/** The keys of one file, one after the other. */
export class KeyMerging {
  readonly stockHash: string | undefined;
  private readonly input: MergeInput;
  private readonly task: FileTask;
  private readonly card: KeyReader;
  private readonly stock: KeyReader | undefined;
  private fetched: KeyReader | undefined;
  private readonly evidence = new Map<string, Evidence | undefined>();
  private backAtStock: readonly boolean[] | undefined;

  constructor(
    input: MergeInput,
    task: FileTask,
    card: KeyReader,
    stock: KeyReader | undefined,
    stockHash: string | undefined,
  ) {
    this.input = input;
    this.task = task;
    this.card = card;
    this.stock = stock?.tree === undefined ? undefined : stock;
    this.stockHash = stockHash;
  }

  /**
   * A tree that was brought off the device stands for stock if none of the keys that we changed in the file, of two at
   * least, has what we wrote: else it was brought after a write, and tells nothing of what the frontend comes with.
   */
  lookAtFetched(fetched: KeyReader): void {
    const edits = new Map(this.task.edits.map((edit) => [placeIn(edit), edit]));
    const holdsOurs = (this.task.recorded?.keys ?? []).flatMap((key) => {
      const old: OldKey = { ...key, path: this.task.path };
      const comparing = this.comparing(old, edits.get(placeIn(key)), holdsSecret(old, old));
      const there = contentOf(fetched.get(key));
      const changed = key.answer?.kind !== 'let-alone' && JSON.stringify(key.written) !== JSON.stringify(key.before);
      return changed ? [sameContent(key.written, there, comparing)] : [];
    });
    if (fetched.tree !== undefined && holdsOurs.length >= 2 && !holdsOurs.includes(true)) this.fetched = fetched;
  }

  /** Whether a secret of ours is, was or will be in the file. */
  get hasSecrets(): boolean {
    const { edits, recorded } = this.task;
    return (
      edits.some((edit) => this.input.secrets.namesIn(edit).length > 0) ||
      (recorded?.keys ?? []).some(({ written, before }) => written.kind === 'hashed' || before.kind === 'hashed')
    );
  }

  /** A key that the profile names. */
  edit(edit: Edit): Merged {
    const { secrets } = this.input;
    const old = this.task.oldOf(edit);
    const here = old !== undefined && keyId(old) === keyId(edit);
    const names = secrets.namesIn(edit);
    const hidden = names.length > 0 || holdsSecret(edit, old);
    const comparing = this.comparing(edit, edit, hidden);
    const card = contentOf(this.card.get(edit));
    const profile = this.profileContent(edit, names);
    const same = (a: Content, b: Content): boolean => sameContent(a, b, comparing);
    const told = old === undefined ? undefined : this.toldNow(old);
    const there = this.readings(old, card, hidden);
    const holds = (text: Held): boolean => there.some((reading) => same(reading, text));
    const facts = {
      recorded: old === undefined ? 'no' : here ? 'here' : 'elsewhere',
      fileThere: this.card.tree !== undefined,
      keyThere: card.kind !== 'absent',
      cardIsProfile: same(card, profile),
      cardIsWritten: told !== undefined && holds(told.written),
      cardIsStock: this.isStock(edit, card, told?.before, same),
      profileIsWritten: told !== undefined && (profile.kind === 'unknown' || same(profile, told.written)),
      profileKnown: profile.kind !== 'unknown',
      volatile: settingById(edit.setting)?.volatile === true,
      secret: names.length > 0,
      evidence: here ? this.evidenceFor(edit.instance, old.kept !== undefined && same(card, old.kept)) : undefined,
      remembered: remembered(told?.answer, profile, holds, same),
      said: this.input.answers.get(keyId(edit)),
      takeProfile: this.input.takeProfile,
    } as const;
    const fate = classifyKey(facts);
    const held = this.heldOfCard(edit, card, hidden);
    const wanted: Held =
      edit.value === undefined
        ? { kind: 'absent' }
        : names.length > 0
          ? { kind: 'to-hash', value: edit.value, secrets: names }
          : { kind: 'text', value: edit.value };
    const ours = fate.act === 'write' || fate.class === 'same';
    // A hash that still holds is kept, so that a record does not change where nothing does.
    const written = !ours
      ? (told?.written ?? held)
      : facts.profileIsWritten && told?.written.kind === 'hashed'
        ? told.written
        : wanted;
    const before = told === undefined ? held : here || !(facts.cardIsStock || !facts.keyThere) ? told.before : held;
    const answer: Answer | undefined =
      fate.remember === 'keep-card'
        ? { kind: 'keep-card', card: held, profile: wanted }
        : fate.remember === 'let-alone'
          ? { kind: 'let-alone' }
          : undefined;
    return {
      planned: {
        ...this.planned(edit, fate, this.shown(card, hidden, facts.cardIsProfile ? names : [])),
        to: edit.value === undefined ? absent : names.length > 0 ? { kind: 'secret', names } : textShown(edit.value),
        origin: shownOrigin(edit.origin),
      },
      change: fate.act === 'write' ? changeTo(edit, edit.value, names) : undefined,
      edit,
      record: {
        ...recordedSubject(edit),
        before,
        written,
        ...(fate.act === 'keep' ? { kept: held } : {}),
        ...(answer === undefined ? {} : { answer }),
      },
    };
  }

  /** A recorded key that no edit names. */
  orphan(old: OldKey): Merged {
    const successor = this.task.successorOf(old);
    const hidden = holdsSecret(old, old);
    const card = contentOf(this.card.get(old));
    const told = this.toldNow(old);
    const comparing = this.comparing(old, undefined, hidden);
    const there = this.readings(old, card, hidden);
    const holds = (text: Held): boolean => there.some((reading) => sameContent(reading, text, comparing));
    const fate = classifyLetGo({
      fileThere: this.card.tree !== undefined,
      keyThere: card.kind !== 'absent',
      cardIsWritten: holds(told.written),
      cardIsBefore: holds(told.before),
      beforeLost: old.before.kind === 'hashed',
      moved: successor !== undefined,
      letAlone: old.answer?.kind === 'let-alone',
      said: this.input.answers.get(keyId(old)),
    });
    // Where the setting has another key now, this one is of the version that was, and gets back what that had there.
    const before = told.here ? told.before : old.before;
    const back = before.kind === 'text' ? before.value : undefined;
    return {
      planned: {
        ...this.planned(old, fate, this.shown(card, hidden, [])),
        to: back === undefined ? absent : hidden ? { kind: 'secret', names: [] } : textShown(back),
      },
      change: fate.act === 'write' ? changeTo(old, back, []) : undefined,
      edit: successor,
      record: undefined,
    };
  }

  /** What is recorded of a key, as the frontend's version of now spells it. */
  private toldNow(old: OldKey): Pick<RecordedKey, 'before' | 'written' | 'answer'> & { readonly here: boolean } {
    let here = true;
    const renew = (held: Held): Held => {
      if (held.kind !== 'text') return held;
      const renewed = this.input.renewed(old, held.value);
      here &&= renewed.here;
      return { kind: 'text', value: renewed.text };
    };
    const { before, written, answer } = old;
    const told = { before: renew(before), written: renew(written) };
    const said: Answer | undefined =
      answer?.kind === 'keep-card' ? { ...answer, card: renew(answer.card), profile: renew(answer.profile) } : answer;
    return { ...told, ...(said === undefined ? {} : { answer: said }), here };
  }

  /** What the card holds, by the version of now; and, where an update may have left it as it was, by that of then. */
  private readings(old: OldKey | undefined, card: Held, hidden: boolean): readonly Held[] {
    if (old === undefined || hidden || card.kind !== 'text') return [card];
    return [card, { kind: 'text', value: this.input.renewed(old, card.value).text }];
  }

  private planned(subject: Subject, fate: Fate, from: Shown): Omit<PlannedKey, 'to'> {
    const cardLine = this.card.line(subject);
    const { instance, file, key, record, setting, item, scope } = subject;
    return {
      class: fate.class,
      act: fate.act,
      instance,
      file,
      key,
      ...(record === undefined ? {} : { record }),
      setting,
      ...(item === undefined ? {} : { item }),
      scope,
      from,
      why: fate.why,
      ...(cardLine === undefined ? {} : { cardLine }),
    };
  }

  private shown(content: Content, hidden: boolean, names: readonly string[]): Shown {
    if (content.kind !== 'text') return absent;
    return hidden ? { kind: 'secret', names } : textShown(content.value);
  }

  /**
   * A secret of the card's own is a secret too: only its keyed hash is kept. No text, and what every such frontend ships
   * with, is none, and can come back.
   */
  private heldOfCard(subject: Subject, card: Held, hidden: boolean): Held {
    if (!hidden || card.kind !== 'text') return card;
    const stock = this.stock?.get(subject);
    const empty = card.value.kind === 'scalar' && card.value.text === '';
    return empty || (stock !== undefined && sameText(card.value, stock))
      ? card
      : { kind: 'hashed', hash: this.input.hash.keyed(hashedText(card.value)) };
  }

  private profileContent(edit: Edit, names: readonly string[]): Content {
    if (edit.value === undefined) return { kind: 'absent' };
    const value = spellOut(edit.value, names, this.input.secrets.find);
    return value === undefined ? { kind: 'unknown' } : { kind: 'text', value };
  }

  private comparing(subject: Subject, edit: Edit | undefined, hidden: boolean): Comparing {
    return {
      keyed: (text) => this.input.hash.keyed(text),
      same: (a, b) => !hidden && this.input.same(subject, edit, a, b),
    };
  }

  /** As in the stock file, or in one that was brought; where none is known, as before us. */
  private isStock(
    subject: Subject,
    card: Content,
    before: Held | undefined,
    same: (a: Content, b: Content) => boolean,
  ): boolean {
    const known = this.stock ?? this.fetched;
    if (known !== undefined) return same(card, contentOf(known.get(subject)));
    return before !== undefined && same(card, before);
  }

  /** `asKept`: the key is as the last write left it to the card, so that its file's other keys tell nothing of it. */
  private evidenceFor(instance: string, asKept: boolean): Evidence | undefined {
    if (!this.evidence.has(instance)) {
      this.backAtStock ??= this.keysBackAtStock();
      this.evidence.set(
        instance,
        evidenceOf({
          versionThen: this.input.record?.instances.get(instance)?.version,
          versionNow: this.input.versions.get(instance),
          stockThen: this.task.recorded?.stock,
          stockNow: this.stockHash,
          backAtStock: this.backAtStock,
        }),
      );
    }
    const evidence = this.evidence.get(instance);
    return asKept && evidence === 'all-back' ? undefined : evidence;
  }

  /**
   * Of the keys that we wrote otherwise than stock has them: whether the card has each as stock does. What a hand had
   * changed before the last write, and what is so still, is none of them: it would else count as a reset as soon as
   * another key of the file is let go.
   */
  private keysBackAtStock(): readonly boolean[] {
    const { stock, task } = this;
    if (stock === undefined) return [];
    const edits = new Map(task.edits.map((edit) => [placeIn(edit), edit]));
    return (task.recorded?.keys ?? []).flatMap((key) => {
      if (key.answer?.kind === 'let-alone') return [];
      const old: OldKey = { ...key, path: task.path };
      const comparing = this.comparing(old, edits.get(placeIn(key)), holdsSecret(old, old));
      const asStock = contentOf(stock.get(key));
      if (sameContent(key.written, asStock, comparing)) return [];
      const card = contentOf(this.card.get(key));
      if (key.kept !== undefined && sameContent(key.kept, card, comparing)) return [];
      return [sameContent(card, asStock, comparing)];
    });
  }
}

const absent: Shown = { kind: 'absent' };

function textShown(value: KeyText): Shown {
  return { kind: 'text', value };
}

/** Whether what a key holds may not be shown or kept. */
function holdsSecret({ setting }: Subject, old: OldKey | undefined): boolean {
  return (
    settingById(setting)?.type.kind === 'secret' || old?.written.kind === 'hashed' || old?.before.kind === 'hashed'
  );
}

function remembered(
  answer: Answer | undefined,
  profile: Content,
  holds: (text: Held) => boolean,
  same: (a: Content, b: Content) => boolean,
): 'keep-card' | 'let-alone' | undefined {
  if (answer?.kind !== 'keep-card') return answer?.kind;
  const stands = holds(answer.card) && (profile.kind === 'unknown' || same(profile, answer.profile));
  return stands ? 'keep-card' : undefined;
}

function changeTo({ key, record }: Subject, value: KeyText | undefined, secrets: readonly string[]): PlannedChange {
  if (record !== undefined) return { op: 'record', target: record, value, secrets };
  return value === undefined ? { op: 'remove', key } : { op: 'set', key, value, secrets };
}

function recordedSubject({
  instance,
  file,
  key,
  record,
  setting,
  item,
  scope,
}: Subject): Omit<RecordedKey, 'before' | 'written'> {
  return {
    instance,
    file,
    key,
    ...(record === undefined ? {} : { record }),
    setting,
    ...(item === undefined ? {} : { item }),
    scope,
  };
}
