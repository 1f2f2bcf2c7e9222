/** The hover of a row's first word: what the row means. */
const MEANINGS: Readonly<Record<string, string>> = {
  lesson: 'The title of the file’s lesson.',
  about: 'What the lesson is about.',
  changes: 'Names a row of chords: `changes turn = | Gm7 C7 | Fmaj7 |`; use it with `over turn`.',
  cell: 'Names a few beat groups: `cell climb = 1-2 3-5`; use it by its name in a `line`.',
  phrase: 'Starts a phrase.',
  key: 'The key: spelling, Roman numerals, function of chords. `key F major`',
  meter: 'The meter, 4/4 unless written. `meter 3/4`',
  tempo: 'Beats a minute, then `swing` or `straight`. `tempo 144 swing`',
  part: 'The part the phrase is written for: its range and transposition.',
  level: 'Your own grading, 1 (simple) to 5 (demanding).',
  tag: 'Words to search for.',
  over: 'The chords. `| Gm7 C7 | Fmaj7 |`: chords share a bar equally; `/` repeats a chord, `%` a bar.',
  line: 'The melody: beat groups with spaces between, slots of a beat joined by hyphens; `~` holds, `.` rests.',
  degrees: 'Your own numbering of the notes above, checked figure by figure.',
  claim: 'A teaching point of the lesson.',
  say: 'Words for the handout, in Markdown.',
};

/** What a row means, in one sentence of Markdown; null for a word that is no keyword. */
export function keywordMeaning(word: string): string | null {
  return Object.hasOwn(MEANINGS, word) ? MEANINGS[word]! : null;
}

export function keywordHover(word: string): string | null {
  const meaning = keywordMeaning(word);
  return meaning === null ? null : `**${word}**: ${meaning}`;
}
