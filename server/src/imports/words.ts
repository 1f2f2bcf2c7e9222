/** What words over a score say: where to go on, how to swing, or only themselves. */
import type { Feel } from './types';

export type WordSense = 'da-capo' | 'dal-segno' | 'to-coda' | 'coda' | 'fine' | 'other';

/** The usual words of repeats and jumps, in capitals or not, with full stops or without (common practice). */
export function senseOf(words: string): WordSense {
  const plain = words
    .toLowerCase()
    .replace(/[.\s]+/g, ' ')
    .trim();
  if (/^(?:d ?c|da capo)\b/.test(plain)) return 'da-capo';
  if (/^(?:d ?s|dal segno)\b/.test(plain)) return 'dal-segno';
  if (/^to (?:the )?coda\b/.test(plain)) return 'to-coda';
  if (/^coda$/.test(plain)) return 'coda';
  return /^fine$/.test(plain) ? 'fine' : 'other';
}

/** The feel that words name; null where they name none. */
export function feelIn(words: string): Feel | null {
  const plain = words.toLowerCase();
  if (/\b(?:straight|even)\b/.test(plain)) return { kind: 'straight' };
  return /\b(?:swing|swung|shuffle)\b/.test(plain) ? { kind: 'swing', ratio: null } : null;
}

/** Words that tell tempo or style stand over a beginning too, in bold, and name nothing. */
export function isStyle(words: string): boolean {
  return (
    feelIn(words) !== null ||
    /\b(?:tempo|ballad|bossa|samba|latin|waltz|medium|fast|slow|slowly|moderately|moderato|allegro|allegretto|andante|adagio|largo|lento|presto|vivace|rubato|funk|rock|bop|bebop|up|freely|lively|easy|ad lib|rit|accel)\b/i.test(
      words,
    )
  );
}
