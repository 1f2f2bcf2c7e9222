/** What is said of a phrase as MusicXML directions: a device with a bracket over its notes, a finding under the note it is about. */
import type { Fraction } from '../model/fraction';
import { element, type XmlElement } from './xml';

export interface Remark {
  readonly kind: 'device' | 'finding';
  readonly text: string;
  /** Indices of the first and last note; null where it is about the phrase. */
  readonly notes: { readonly from: number; readonly to: number } | null;
  /** When in a held note it holds; null: at its start. */
  readonly at: Fraction | null;
}

export interface PlacedRemarks {
  /** Of the phrase as a whole. */
  readonly opening: readonly XmlElement[];
  /** Around a note value: of the tied parts of a note, counted from 1, the one that sounds from `onset` for `length`. */
  readonly at: (
    note: number,
    part: number,
    value: { readonly onset: Fraction; readonly length: Fraction },
  ) => { readonly before: readonly XmlElement[]; readonly after: readonly XmlElement[] };
}

export function placedRemarks(remarks: readonly Remark[]): PlacedRemarks {
  const numbers = bracketNumbers(remarks);
  const number = (remark: Remark): number | null => numbers.get(remark) ?? null;
  return {
    opening: remarks.filter(({ notes }) => notes === null).map((remark) => opened(remark, null)),
    at: (note, part, { onset, length }) => {
      const isHere = ({ at }: Remark): boolean => (at === null ? part === 1 : at.compare(onset) >= 0 && at.compare(onset.add(length)) < 0);
      return {
        before: remarks.filter((remark) => remark.notes?.from === note && isHere(remark)).map((remark) => opened(remark, number(remark))),
        after: part === 1 ? remarks.filter((remark) => remark.notes?.to === note).flatMap((remark) => closed(number(remark))) : [],
      };
    },
  };
}

/** Data type number-level (W3C MusicXML 4.0): 1 to 16 tell apart what is open at the same time. */
const MOST_OPEN = 16;

/** A bracket's number is free again after its last note. One for which none is free stands without. */
function bracketNumbers(remarks: readonly Remark[]): Map<Remark, number> {
  const until: number[] = [];
  const numbers = new Map<Remark, number>();
  const spans = remarks.flatMap((remark) =>
    remark.kind === 'device' && remark.notes !== null && remark.notes.from < remark.notes.to ? [{ remark, ...remark.notes }] : [],
  );
  for (const { remark, from, to } of spans.sort((a, b) => a.from - b.from)) {
    const free = until.findIndex((end) => end < from);
    const place = free === -1 ? until.length : free;
    if (place === MOST_OPEN) continue;
    until[place] = to;
    numbers.set(remark, place + 1);
  }
  return numbers;
}

function opened({ kind, text }: Remark, number: number | null): XmlElement {
  const words = element('direction-type', {}, element('words', kind === 'finding' ? { 'font-style': 'italic' } : {}, text));
  return element(
    'direction',
    { placement: kind === 'finding' ? 'below' : 'above' },
    words,
    number === null ? null : bracket('start', number),
  );
}

function closed(number: number | null): XmlElement[] {
  return number === null ? [] : [element('direction', { placement: 'above' }, bracket('stop', number))];
}

function bracket(type: 'start' | 'stop', number: number): XmlElement {
  return element('direction-type', {}, element('bracket', { type, number, 'line-end': 'down' }));
}
