/**
 * Moving a phrase's text to another key: pitches, chord symbols, the key, the claims and the prose move; degrees and numerals stay what they
 * are. A `say` text that cannot safely be moved is left out, and a comment in its place says so.
 */
import type { ClaimRow, OverRow, PhraseItem, SayRow, StringNode, TextEdit } from '../../../../grammar/tree';
import { applyEdits } from '../../../../grammar/printer';
import { paragraphRows, paragraphsOf } from '../../../../grammar/paragraphs';
import { parseSlice } from '../../../../grammar/parser';
import { transposeName, transposePitch, type Shift } from '../../theory/interval';
import { transposeSymbol } from '../../theory/transposition';
import { isRoman } from '../../theory/roman';
import { formatNoteName, formatPitch, parseNoteName, parsePitch, pitchInText, writable } from '../../theory/pitch';
import type { Pitch } from '../../theory/types';
import type { Phrase } from '../../model/types';
import type { Snapshot } from '../../model/snapshot';
import { pitchedCellsWrittenOut } from '../writing/cells';
import { definitionsWrittenOut } from '../writing/changes-text';
import { sorted, wholeLine } from '../writing/whole-phrase';
import { movedProse } from './prose';

/**
 * The phrase's text moved by a shift; null where the tonic or a chord's root would need two accidentals (choose the enharmonic shift),
 * or an octave figure would need two digits or a minus.
 * Chords of a definition are written out, and so are cells that hold pitches, since their definitions serve other phrases too. `said` answers
 * what is said in the other key in place of a text, null where nothing can be.
 */
export function transposedText(
  snapshot: Snapshot,
  phrase: Phrase,
  shift: Shift,
  hasRoot: boolean,
  said: (text: string) => string | null = (text) => movedProse(text, shift),
): string | null {
  const chords = hasRoot ? definitionsWrittenOut(snapshot, phrase) : [];
  const cells = pitchedCellsWrittenOut(snapshot, phrase);
  if (chords === null || cells === null) return null;
  const text = applyEdits(phrase.text, sorted([...chords, ...cells]));
  const { item } = parseSlice(text);
  if (item.kind !== 'phrase') return null;
  const edits = transpositionEdits(text, item, shift);
  return edits === null ? null : applyEdits(text, sorted([...edits, ...proseEdits(text, item, shift, said)]));
}

/** Whether a phrase has a chord by its root, which moves; numerals move with their key. */
export function hasAbsoluteChord(phrase: Phrase): boolean {
  return phrase.spans.some(({ chord, roman }) => chord !== null && !roman);
}

export function transpositionEdits(text: string, item: PhraseItem, shift: Shift): TextEdit[] | null {
  const edits: TextEdit[] = [];
  for (const row of item.rows) {
    if (row.kind === 'key' && row.tonic !== null) {
      const tonic = transposeName(row.tonic, shift);
      if (Math.abs(tonic.alter) > 1) return null;
      edits.push({ range: row.tonic.range, text: formatNoteName(tonic) });
    }
    if (row.kind === 'over') {
      const moved = chordEdits(row, shift);
      if (moved === null) return null;
      edits.push(...moved);
    }
    if (row.kind === 'line') {
      const moved = lineEdits(
        text,
        row.bars.flatMap((bar) => bar.groups),
        shift,
      );
      if (moved.includes(null)) return null;
      edits.push(...moved.filter((edit) => edit !== null));
    }
    if (row.kind === 'claim') edits.push(...claimEdits(row, shift));
  }
  return edits;
}

/** Stands before a `say` text that is left out, as a comment, so that nothing of it is lost. */
const LEFT_OUT = '// Left out, for it may be true of another key only: ';

function proseEdits(text: string, { rows, title, comments }: PhraseItem, shift: Shift, said: (text: string) => string | null): TextEdit[] {
  const edits: TextEdit[] = [];
  if (title !== null) edits.push(...stringEdit(title, movedName(title.value, shift)));
  for (const paragraph of paragraphRows(rows, text)) {
    const [told] = paragraphsOf(paragraph, text);
    if (told === undefined) continue;
    const moved = said(told);
    if (moved === null) edits.push(...paragraph.map(({ range }) => ({ range, text: LEFT_OUT + text.slice(range.start, range.end) })));
    else if (moved !== told) edits.push(...paragraphEdits(text, paragraph, moved));
  }
  for (const { range, text: comment } of comments) {
    const moved = comment.startsWith(LEFT_OUT) ? null : movedProse(comment, shift);
    if (moved !== null && moved !== comment) edits.push({ range, text: moved });
  }
  return edits;
}

/** A phrase's name in another key. One that cannot be told stays: a phrase is known by it. */
export function movedName(name: string, shift: Shift): string {
  return hasLabel(name) ? name : (movedProse(name, shift) ?? name);
}

/** Whether a name has a letter that may be a label (`A`, `Etude B`) and is not told to be a key or a note by what stands beside it. */
function hasLabel(name: string): boolean {
  const told = name.replace(
    /\b(?:in|over|on|to|from|of) [A-G]\b|\([A-G](?: (?:major|minor))?\)|\b[A-G][- ](?:major|minor|blues|flat|sharp)\b/gi,
    '',
  );
  return /(?<![\p{L}\p{N}])[A-G](?![\p{L}\p{N}#♭♯])/u.test(told);
}

/** The first row of a paragraph tells it all; the formatter breaks it anew. Comments behind the other rows stay. */
function paragraphEdits(text: string, [first, ...others]: readonly SayRow[], told: string): TextEdit[] {
  const { keyword, range } = first!;
  return [
    { range: { start: keyword.range.end, end: range.end }, text: `     ${quoted(told)}` },
    ...others.map((row) => ({ range: wholeLine(text, row.range), text: '' })),
  ];
}

function quoted(text: string): string {
  return `"${text.replace(/["“”]/g, '\\"')}"`;
}

function stringEdit({ value, range }: StringNode, moved: string): TextEdit[] {
  return moved === value ? [] : [{ range, text: quoted(moved) }];
}

function chordEdits(row: OverRow, shift: Shift): TextEdit[] | null {
  const edits: TextEdit[] = [];
  for (const share of row.bars.flatMap((bar) => bar.shares)) {
    if (share.kind !== 'chord' || isRoman(share.symbol.text)) continue;
    const moved = transposeSymbol(share.symbol.text, shift);
    if (moved === null || /(?:^|\/)[A-G](?:##|bb)/.test(moved)) return null;
    edits.push({ range: share.symbol.range, text: moved });
  }
  return edits;
}

/** Claims name pitches (`range C4 to G5`, `enclosure of E`), chords (`arpeggio of Dm7`) and tonics (`scale D dorian`). */
function claimEdits({ words }: ClaimRow, shift: Shift): TextEdit[] {
  const [kind] = words;
  if (kind === undefined) return [];
  return words.slice(1).flatMap(({ text, range }, i): TextEdit[] => {
    const before = words[i]!.text;
    const namesNote = kind.text === 'range' || (kind.text === 'enclosure' && before === 'of') || (kind.text === 'scale' && i === 0);
    if (namesNote) {
      const pitch = parsePitch(text);
      const name = parseNoteName(text);
      if (pitch !== null) return [{ range, text: formatPitch(writable(transposePitch(pitch, shift))) }];
      return name === null ? [] : [{ range, text: formatNoteName(transposeName(name, shift)) }];
    }
    const moved = kind.text === 'arpeggio' && before === 'of' ? transposeSymbol(text, shift) : null;
    return moved === null ? [] : [{ range, text: moved }];
  });
}

type Groups = readonly import('../../../../grammar/tree').Group[];

/** The pitches of a line, moved; null for one that would lie too low or too high to be written. */
function lineEdits(text: string, groups: Groups, shift: Shift): (TextEdit | null)[] {
  return groups.flatMap((group) =>
    group.kind === 'cell'
      ? []
      : group.slots.flatMap((slot): (TextEdit | null)[] => {
          if (slot.kind !== 'note' || slot.head.kind !== 'pitch') return [];
          const { letter, alter, octave, range } = slot.head;
          const pitch: Pitch = writable(transposePitch({ letter, alter, octave: octave ?? 4 }, shift));
          const moved = octave === null ? formatNoteName(pitch) : pitchInText(pitch);
          if (moved === null) return [null];
          return text.slice(range.start, range.end) === moved ? [] : [{ range, text: moved }];
        }),
  );
}
