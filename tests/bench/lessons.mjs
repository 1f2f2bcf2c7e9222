/** The texts that the benches type in: lessons of ours of a given size, and JSON of as many lines. Each says where a character is typed and what. */
import { readFileSync } from 'node:fs';

/** Names of seven notes; a line of eighths over them has no finding. */
const BARS = [
  ['Dm7', 'D4-F A-C B-G F-D'],
  ['G7', 'G-B D-F E-D B-G'],
  ['Cmaj7', 'G4-E C-E G-B A-G'],
  ['Am7', 'A-C E-G A-G E-C'],
];

/** A lesson of so many lines, five a phrase, without findings; or with so many findings in a thousand lines: a note between the bars that clashes. */
export function lessonOf(lines, findings = 0) {
  const wrong = findings === 0 ? Infinity : Math.max(1, Math.round(200 / findings));
  const phrases = Array.from(
    { length: Math.ceil(lines / 5) },
    (_, i) =>
      `phrase "Number ${i}"\n  key     C major\n  over    | Dm7 G7 | Cmaj7 |\n  line    | D4-F A-C B-G F-D | ${i % wrong === wrong - 1 ? 'F G C ~' : 'E G C ~'} |\n`,
  );
  const text = phrases.join('\n').split('\n').slice(0, lines).join('\n');
  return { languageId: 'phrase', text, ...noteOf(text, Math.floor(lines / 10) * 5 + 3) };
}

/** One phrase of 32 bars of eighths, in systems of four bars. */
export function longPhrase() {
  const system = `  over    | ${BARS.map(([chord]) => chord).join(' | ')} |\n  line    | ${BARS.map(([, notes]) => notes).join(' | ')} |\n`;
  const text = `lesson "A long one"\n\nphrase "Thirty-two bars by the canal"\n  key     C major\n  tempo   132 swing\n${system.repeat(8)}`;
  return { languageId: 'phrase', text, ...noteOf(text, 12) };
}

/** The same, its last bar still being written: a group more is typed at its end, and the editor tells where somebody writes. */
export function growingPhrase() {
  const { languageId, text } = longPhrase();
  const written = text.trimEnd().replace(/ \S+ \|$/, '');
  const rows = written.split('\n');
  return { languageId, text: written, line: rows.length - 1, character: rows.at(-1).length, typed: ' E', isWriting: true };
}

export function sampleLesson() {
  const text = readFileSync('samples/first-two-five-one.phrase', 'utf8');
  return {
    languageId: 'phrase',
    text,
    ...noteOf(
      text,
      text.split('\n').findIndex((row) => row.trimStart().startsWith('line')),
    ),
  };
}

/** JSON of so many lines, where a name is typed. */
export function jsonOf(lines) {
  const text = `[\n${Array.from({ length: lines - 2 }, (_, i) => `  { "id": ${i}, "name": "entry ${i}", "tags": ["a", "b"], "size": ${i * 3} }`).join(',\n')}\n]`;
  return { languageId: 'json', text, line: Math.floor(lines / 2) + 3, character: 12, typed: 'x', mistakes: true };
}

/** In the title of a phrase without findings, near the middle of a lesson: what is typed there changes no finding. */
export function besideFindings({ text }) {
  const rows = text.split('\n');
  let line = Math.floor(rows.length / 10) * 5;
  while (!rows[line + 3].includes('E G C ~')) line += 5;
  return { line, character: rows[line].indexOf('"') + 1, typed: 'x' };
}

/** Just after the first note of a row: the figure typed there makes a word that cannot be read, taken back by the next keystroke. */
function noteOf(text, line) {
  const row = text.split('\n')[line];
  const bar = /line\s+\|\s*(?:\.\s*)*[A-G]\d?/.exec(row);
  if (bar === null) throw new Error(`no line of notes: ${row}`);
  return { line, character: bar[0].length, typed: /\d$/.test(bar[0]) ? '1' : '41', mistakes: true };
}
