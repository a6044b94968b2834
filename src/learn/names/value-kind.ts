import type { SyntaxValue } from '../../syntax/contract.ts';
import { plainWord } from './name-words.ts';

/** What a key's text looks like, whatever it means. */
export type ValueKind =
  | { readonly kind: 'switch'; readonly on: boolean; readonly text: string; readonly other: string }
  /** `unit` as written behind it. */
  | { readonly kind: 'number'; readonly amount: number; readonly unit: string; readonly digits: boolean }
  | { readonly kind: 'path' }
  | { readonly kind: 'control'; readonly certain: boolean }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'empty' }
  | { readonly kind: 'stamp' }
  | { readonly kind: 'word'; readonly text: string }
  | { readonly kind: 'text'; readonly text: string };

/** Spellings of on and off, from common practice and dictionaries. */
const switches: readonly (readonly [string, string])[] = [
  ['true', 'false'],
  ['yes', 'no'],
  ['on', 'off'],
  ['enabled', 'disabled'],
  ['enable', 'disable'],
  ['1', '0'],
  ['y', 'n'],
  ['t', 'f'],
  ['ja', 'nein'],
  ['an', 'aus'],
  ['oui', 'non'],
  ['si', 'no'],
  ['sim', 'nao'],
  ['ligado', 'desligado'],
  ['verdadeiro', 'falso'],
  ['activado', 'desactivado'],
  ['ativado', 'desativado'],
  ['ativo', 'inativo'],
  ['acceso', 'spento'],
  ['vero', 'falso'],
  ['vrai', 'faux'],
  ['aan', 'uit'],
  ['active', 'inactive'],
  ['ein', 'aus'],
];

/** Writes `plain` as the text beside it is written: `TRUE`, `True`, `true`. */
function asWritten(plain: string, like: string): string {
  if (like.length > 1 && like === like.toUpperCase() && like !== like.toLowerCase()) return plain.toUpperCase();
  if (/^\p{Lu}/u.test(like)) return plain.slice(0, 1).toUpperCase() + plain.slice(1);
  return plain;
}

function switchOf(text: string): ValueKind | undefined {
  const word = plainWord(text);
  for (const [on, off] of switches) {
    if (word === on)
      return {
        kind: 'switch',
        on: true,
        text,
        other: asWritten(off === 'nao' && text !== 'sim' ? off : off === 'nao' ? 'não' : off, text),
      };
    if (word === off) return { kind: 'switch', on: false, text, other: asWritten(on, text) };
  }
  return undefined;
}

/** A control by a kernel name, or a number behind a word for buttons, axes and hats; or several of them joined. */
const control =
  /^(?:(?:BTN|KEY|ABS)_[A-Z0-9_]+|(?:button|btn|joy|joystick|key|pad|axis|abs|hat|cross|lean|stick|pov|b|a|h|j|t|taste|tecla|touche|botao|eixo|tilt|lever)[\s_:.#-]{0,2}\d+(?:[\s_:.@-]*(?:up|down|left|right|plus|minus|[xy]|[-+UDLRNESWudlrnesw]|\d))?|[-+]?(?:axis|a)\d+[-+]?|(?:hat|h|pov|dpad|cross)[\s_:.-]?(?:up|down|left|right))$/i;
const joins = /\s*(?:\+|&amp;|&|\||,|;|\band\b|\s)\s*/;

function isControl(text: string): boolean {
  const trimmed = text.trim();
  if (control.test(trimmed)) return true;
  const pieces = trimmed.split(joins).filter((piece) => piece !== '');
  if (pieces.length > 1 && pieces.length < 6 && pieces.every((piece) => control.test(piece))) return true;
  const halves = trimmed.split(/\s*[&|,;]\s*|\s\+\s/);
  return halves.length > 1 && halves.length < 6 && halves.every((piece) => control.test(piece.trim()));
}

/** Words for a place on a pad, as programs with words of their own use them. */
const places =
  /\b(?:up|down|left|right|upper|lower|south|north|east|west|start|select|mode|shoulder|trigger|bumper|stick|thumb|pad|dpad|button|l[123]|r[123]|guide|home|back|face|top|bottom)\b/i;

const stamp =
  /^\d{4}-\d\d-\d\d([T ]\d\d:\d\d(:\d\d)?.*)?$|^1[5-9]\d{8}(\d{3})?$|^2[0-2]\d{8}$|^[0-9a-f]{8,}$|^[0-9a-f-]{32,}$/i;

/** What a value looks like. A list of controls is one chord. */
export function valueKind(value: SyntaxValue): ValueKind {
  if (value.kind === 'list') {
    const items = value.items.map(({ text }) => text);
    if (items.length > 0 && items.length < 6 && items.every(isControl)) return { kind: 'control', certain: true };
    return { kind: 'list', items };
  }
  const text = value.text.trim();
  if (text === '') return { kind: 'empty' };
  const turned = switchOf(text);
  if (turned !== undefined) return turned;
  const number = /^([-+]?\d+(?:[.,]\d+)?)\s*(%|x|ms|s|sec|min|[kmg]i?b|db|b)?$/i.exec(text);
  if (number !== null && !stamp.test(text))
    return {
      kind: 'number',
      amount: Number((number[1] ?? '').replace(',', '.')),
      unit: (number[2] ?? '').toLowerCase(),
      digits: !/[.,]/.test(text),
    };
  if (isControl(text)) return { kind: 'control', certain: true };
  if (/[/\\]/.test(text) && /^(?:[.~]?[/\\]|[A-Za-z]:[/\\]|\$\{?\w|\w+[/\\])/.test(text)) return { kind: 'path' };
  if (stamp.test(text) && /\d/.test(text)) return { kind: 'stamp' };
  if (text.length <= 24 && places.test(text)) return { kind: 'control', certain: false };
  if (text.length <= 24 && /^[\p{L}][\p{L}\p{N}\s_.:-]*$/u.test(text)) return { kind: 'word', text };
  return { kind: 'text', text };
}
