/** Letters that fonts lack: they would print as empty boxes. */
import type { Block } from './types';

/** A sentence for each lesson or phrase, by its name, whose texts have letters that `has` does not know (by their code points). */
export function missingLetters(blocks: readonly Block[], has: (codePoint: number) => boolean): string[] {
  const missing = new Map<string, Set<string>>();
  let place = '';
  for (const block of blocks) {
    if (block.kind === 'section') place = block.title;
    else if (block.kind === 'phrase') place = block.name;
    for (const letter of wordsIn(block)) {
      if (BLANK.test(letter) || has(letter.codePointAt(0)!)) continue;
      const known = missing.get(place);
      if (known === undefined) missing.set(place, new Set([letter]));
      else known.add(letter);
    }
  }
  return [...missing].map(([name, letters]) => {
    const shown = [...letters].slice(0, MOST_SHOWN).join(' ');
    const more = letters.size > MOST_SHOWN ? ` and ${letters.size - MOST_SHOWN} more` : '';
    return `“${name}”: the fonts of the PDF lack ${shown}${more}, so empty boxes are printed for ${letters.size === 1 ? 'it' : 'them'}. HTML is shown in the fonts of whoever reads it.`;
  });
}

/** Spaces, and signs that direct others and are not seen. */
const BLANK = /[\s\p{C}]|[\u{fe00}-\u{fe0f}]/u;
const MOST_SHOWN = 8;

function wordsIn(block: Block): string {
  switch (block.kind) {
    case 'section':
      return `${block.title}${block.note}`;
    case 'contents':
    case 'names':
    case 'systems':
      return '';
    case 'phrase':
      return `${block.name}${block.heading}`;
    case 'label':
    case 'item':
      return block.words;
    case 'prose':
      return block.words.map(({ text }) => text).join('');
  }
}
