/** Roots and qualities of which random chords are made. */

export const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** The digests of `unit/data/judgements.txt` count on these, in this order: what only other tests draw, they add themselves. */
export const QUALITIES = [
  'maj7',
  '6',
  'm7',
  'm6',
  'm(maj7)',
  '7',
  '9',
  '13',
  '7b9',
  '7alt',
  '7#11',
  'm7b5',
  'dim7',
  '7sus',
  'maj7#5',
  '+7',
  '',
  'm',
  'm9',
  '7#9',
  '13b9',
] as const;
