import type { RuleDoc } from '../rule';

export const unreadableWord: RuleDoc = {
  id: 'unreadable-word',
  severity: 'error',
  what: 'Something among notes, figures or chords cannot be read.',
  why: 'It keeps its place in time but sounds nothing.',
  example: 'phrase "A"\n  line | C4 ?? E F |\n',
  instead: 'phrase "A"\n  line | C4 D E F |\n',
  fix: 'Write a note (C4, Bb), a degree (b3), a hold (~) or a rest (.).',
  message: ({ word, offer }) => `“${word}” cannot be read here. ${offer === '' ? 'Write a note like Bb4, a degree like b3, a hold ~ or a rest.' : offer === '.' ? 'A rest is written with a dot.' : `Write ${offer}.`}`,
};
