/** A phrase as it is handed out: for a part, in a key. Its text is moved and read anew, so that prose, claims and findings are true of it. */
import { applyEdits, dressed } from '../../../grammar/printer';
import type { TextEdit } from '../../../grammar/tree';
import { homeKey, otherTonics } from '../analysis/keys';
import { readPhrase } from '../analysis/read';
import type { Reading, TheoryOptions } from '../analysis/types';
import { inKeyOf } from '../assists/vary/other-keys';
import { movedProse } from '../assists/vary/prose';
import { hasAbsoluteChord, transposedText } from '../assists/vary/transposing';
import { pageShift } from '../exports/musicxml';
import { guarded } from '../model/faults';
import { openSnapshot, phraseAt, type PlacedPhrase, type Snapshot } from '../model/snapshot';
import type { Phrase } from '../model/types';
import { findingsOf, type Finding } from '../rules/findings';
import { soundingRange } from '../theory/part';
import { formatKey } from '../theory/key';
import { chroma, formatNoteName, midi, parseNoteName, pitchInText } from '../theory/pitch';
import type { Key, PartName } from '../theory/types';
import type { HandoutOptions } from './types';

export interface Version {
  readonly reading: Reading;
  /** The same as its part reads it: what is said of the phrase speaks of the notes on the sheet. */
  readonly asRead: Reading;
  /** Of this phrase, offsets from its start, worded as its part reads it. */
  readonly findings: readonly Finding[];
  /** `F major`, where keys were asked for. */
  readonly key: string | null;
  /** Its text, in its lesson, at concert pitch as every text. */
  readonly text: Placed;
}

export interface Versions {
  readonly versions: readonly Version[];
  /** What could not be done as asked, a sentence each. */
  readonly notices: readonly string[];
}

interface Placed {
  readonly snapshot: Snapshot;
  readonly placed: PlacedPhrase;
}

/** The versions of a phrase for a part (null: the one it names), in the order of the keys. At least one, be it as written. */
export function versionsOf(phrase: Placed, part: PartName | null, keys: HandoutOptions['keys'], theory: TheoryOptions): Versions {
  const own = part === null ? phrase : forPart(phrase, part);
  const as = (one: Placed, key: string | null): Version => {
    const read = asItsPartReads(one, theory);
    const [sounding, words] = [findingsIn(one, theory), findingsIn(read, theory)];
    // Offsets are those of the text that was engraved; the same findings come in the same order.
    const isSame = sounding.length === words.length && sounding.every(({ rule }, i) => rule === words[i]!.rule);
    return {
      reading: readPhrase(one.placed.phrase, theory),
      asRead: readPhrase(read.placed.phrase, theory),
      key,
      text: one,
      findings: isSame ? sounding.map((finding, i) => ({ ...finding, message: words[i]!.message })) : sounding,
    };
  };
  if (keys === 'written') return { versions: [as(own, null)], notices: [] };
  const name = `“${own.placed.phrase.name}”`;
  const key = homeKey(readPhrase(own.placed.phrase, theory));
  if (key === null)
    return {
      versions: [as(own, null)],
      notices: [`${name} names no key, so it is handed out as it is written. Give it a row such as key C major.`],
    };
  const tonics = keys === 'all' ? [formatNoteName(key.tonic), ...otherTonics(key, 'cycle')] : keys;
  const notices: string[] = [];
  const versions = tonics.flatMap((tonic): Version[] => {
    const target: Key = { ...key, tonic: parseNoteName(tonic)! };
    return guarded(`${name} in ${formatKey(target)}`, [], () => {
      const there = inKey(own, key, tonic, theory);
      if (there === null)
        notices.push(
          `${name} cannot be written in ${formatKey(target)}: a chord or a note of it would need two accidentals or lie too far off. That key is left out.`,
        );
      return there === null ? [] : [as(there.placed, formatKey({ ...key, tonic: parseNoteName(there.tonic)! }))];
    });
  });
  return { versions: versions.length > 0 ? versions : [as(own, null)], notices };
}

/** The findings of a phrase, offsets from its start. */
export function findingsIn({ snapshot, placed: { start, phrase } }: Placed, theory: TheoryOptions): Finding[] {
  const end = start + phrase.text.length;
  return findingsOf(snapshot, theory)
    .filter((finding) => finding.start >= start && finding.start < end)
    .map((finding) => ({ ...finding, start: finding.start - start, end: finding.end - start }));
}

/** The same document with another text of the phrase. */
export function withText({ snapshot, placed: { start, phrase } }: Placed, text: string): Placed {
  const after = openSnapshot(
    snapshot.uri,
    snapshot.version + 1,
    snapshot.text.slice(0, start) + text + snapshot.text.slice(start + phrase.text.length),
    snapshot,
  );
  return { snapshot: after, placed: phraseAt(after, start)! };
}

/** A tonic that cannot be written is tried by its other name: `F#` for `Gb`. */
function inKey(one: Placed, key: Key, tonic: string, theory: TheoryOptions): { readonly placed: Placed; readonly tonic: string } | null {
  if (tonic === formatNoteName(key.tonic)) return { placed: one, tonic };
  const reading = readPhrase(one.placed.phrase, theory);
  const context = { ...one, reading, options: theory, selection: { start: 0, end: 0 }, note: null, selected: [], asked: true };
  const sound = chroma(parseNoteName(tonic)!);
  const others = NAMES.filter((name) => name !== tonic && chroma(parseNoteName(name)!) === sound);
  for (const name of [tonic, ...others]) {
    const text = inKeyOf(context, key, name);
    if (text !== null) return { placed: withText(one, text), tonic: name };
  }
  return null;
}

const NAMES = ['C', 'Db', 'C#', 'D', 'Eb', 'D#', 'E', 'F', 'Gb', 'F#', 'G', 'Ab', 'G#', 'A', 'Bb', 'A#', 'B', 'Cb'] as const;

/** The phrase at written pitch, as if it sounded so; the phrase itself where that is the same, or cannot be written. */
function asItsPartReads(one: Placed, theory: TheoryOptions): Placed {
  const shift = pageShift(readPhrase(one.placed.phrase, theory), { pitch: 'written', degrees: false, words: 'notes' });
  if (shift.diatonic === 0 && shift.chromatic === 0) return one;
  const concert = withPart(one, 'concert');
  const text = transposedText(
    concert.snapshot,
    concert.placed.phrase,
    shift,
    hasAbsoluteChord(concert.placed.phrase),
    (said) => movedProse(said, shift) ?? `${said} (Concert pitch.)`,
  );
  const there = text === null ? one : withText(concert, text);
  const isMoved = there.placed.phrase.notes.every(({ midi: height }, i) => height === one.placed.phrase.notes[i]!.midi + shift.chromatic);
  return isMoved ? there : one;
}

/** For another part: the row says so, and the line moves by octaves to where most of it can be played, no farther than it takes. */
function forPart(phrase: Placed, part: PartName): Placed {
  return inRange(withPart(phrase, part));
}

/** The row of the part, the sound as it is. */
function withPart(phrase: Placed, part: PartName): Placed {
  const { text, item, notes } = phrase.placed.phrase;
  const row = item.rows.findLast(({ kind }) => kind === 'part');
  const at = item.title?.range.end ?? item.keyword.range.end;
  const named: TextEdit =
    row === undefined ? { range: { start: at, end: at }, text: `\n  part    ${part}` } : { range: row.range, text: `part    ${part}` };
  const first = notes[0];
  // A first note without an octave figure, or a degree, would be placed anew by the part, away from later ones that have one. A cell has to stay where its part places it.
  const isPlaced = first?.node.head.kind === 'pitch' && first.node.head.octave !== null;
  const head = first === undefined || isPlaced || first.cell !== null ? null : pitchInText(first.pitch);
  const anchored: TextEdit[] =
    head === null ? [] : [{ range: first!.node.range, text: dressed({ ...first!.node, direction: null }, head) }];
  return withText(
    phrase,
    applyEdits(
      text,
      [named, ...anchored].sort((a, b) => a.range.start - b.range.start),
    ),
  );
}

/** Octaves that a line is tried in, nearest first. */
const OCTAVES = [0, -1, 1, -2, 2, -3, 3, -4, 4] as const;

function inRange(one: Placed): Placed {
  const { phrase } = one.placed;
  const [best] = [...OCTAVES].sort((a, b) => outside(phrase, a) - outside(phrase, b));
  if (best === undefined || best === 0) return one;
  const text = transposedText(one.snapshot, phrase, { diatonic: 7 * best, chromatic: 12 * best }, hasAbsoluteChord(phrase), (said) => said);
  return text === null ? one : withText(one, text);
}

function outside(phrase: Phrase, octaves: number): number {
  const { low, high } = soundingRange(phrase.part);
  return phrase.notes.filter((note) => note.midi + 12 * octaves < midi(low) || note.midi + 12 * octaves > midi(high)).length;
}
