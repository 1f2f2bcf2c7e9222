/** The explanation of a phrase as lines of text, a bar a paragraph. */
import type { ExplainedNote, ExplainedPhrase } from './document';

export function explainText(phrases: readonly ExplainedPhrase[]): string {
  return phrases.map(phraseText).join('\n');
}

function phraseText(phrase: ExplainedPhrase): string {
  const head = [phrase.name, phrase.key, `${phrase.bars} ${phrase.bars === 1 ? 'bar' : 'bars'}`].filter((part) => part !== null && part !== '').join(', ');
  const bars = [...new Set(phrase.notes.map((note) => note.bar))];
  return `${head}\n${bars.map((bar) => barText(bar, phrase.notes.filter((note) => note.bar === bar))).join('')}`;
}

function barText(bar: number, notes: readonly ExplainedNote[]): string {
  const title = bar === 0 ? 'pickup' : `bar ${bar}`;
  return `  ${title}\n${notes.map((note) => `    ${noteText(note)}\n`).join('')}`;
}

function noteText(note: ExplainedNote): string {
  const place = `beat ${note.beat}`.padEnd(12);
  if (note.degree === null) return `${place} ${note.pitch}`;
  return `${place} ${note.pitch.padEnd(4)} ${note.degree.padEnd(3)} of ${note.chord} (${note.scale ?? 'no scale'}), ${note.role?.replace('-', ' ')}${note.strong ? ', strong' : ''}`;
}
