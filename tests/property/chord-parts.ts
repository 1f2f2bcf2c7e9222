/** Roots and qualities of which random chords are made. */

export const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** In this order: other orders draw other phrases from a seed. */
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
  'sus',
  '7sus',
  'maj7#5',
  '+7',
  '',
  'm',
  '6/9',
  'm9',
  '7#9',
  'maj7#11',
  '13b9',
] as const;
