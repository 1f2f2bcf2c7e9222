/** Words of a sentence that know which chords and notes they name: a chord that was named just before is left out, and a note goes on as “which”. */

export type Words = readonly Piece[];

type Piece = string | NamedChord | NoteInRole;

/** A chord; with ` of ` before it, both are left out where it was the last one named. */
export interface NamedChord {
  readonly before: '' | ' of ';
  readonly chord: string;
}

/** A note with what it is: `E, the third of C7`. */
export interface NoteInRole {
  /** Its index in the phrase. */
  readonly note: number;
  readonly words: Words;
}

/** Words with others in them: say`the ${degree}${ofChord}`. */
export function say(texts: readonly string[], ...values: readonly (string | number | Words)[]): Words {
  const words: Piece[] = [];
  for (const [i, text] of texts.entries()) {
    if (text !== '') words.push(text);
    const value = values[i] ?? '';
    if (typeof value === 'object') words.push(...value);
    else if (value !== '') words.push(String(value));
  }
  return words;
}

/** The words as text. */
export function plain(words: Words): string {
  let text = '';
  for (const piece of words)
    text += typeof piece === 'string' ? piece : 'chord' in piece ? `${piece.before}${piece.chord}` : plain(piece.words);
  return text;
}

/** Whether the words name a chord. */
export function namesChord(words: Words, chord: string): boolean {
  return words.some((piece) => typeof piece !== 'string' && ('words' in piece ? namesChord(piece.words, chord) : piece.chord === chord));
}

/** Words one after another as they are said, each chord named once where it goes on. */
export function sparing(all: readonly Words[]): Words[] {
  let last: string | null = null;
  const spared = (words: Words): Words =>
    words.flatMap((piece): Words => {
      if (typeof piece === 'string') return [piece];
      if ('words' in piece) return [{ ...piece, words: spared(piece.words) }];
      const isKnown = piece.before === ' of ' && piece.chord === last;
      last = piece.chord;
      return isKnown ? [] : [piece];
    });
  return all.map(spared);
}

/** `F, D and Eb`, of words. */
export function listedWords(all: readonly Words[]): Words {
  return all.flatMap((words, i): Words => (i === 0 ? words : [i === all.length - 1 ? ' and ' : ', ', ...words]));
}

/** The note whose role the words end with; null where they end otherwise. */
export function endsOn(words: Words): number | null {
  const last = words[words.length - 1];
  return typeof last === 'object' && 'note' in last ? last.note : null;
}

/** `E, the third of C7, falls to D` after words that end on E: `which falls to D`. Null where the words do not begin with the role of that note. */
export function asWhich([first, second, ...more]: Words, note: number): Words | null {
  if (typeof first !== 'object' || !('note' in first) || first.note !== note || typeof second !== 'string' || !second.startsWith(', '))
    return null;
  return ['which', second.slice(1), ...more];
}
