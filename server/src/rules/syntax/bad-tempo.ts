import type { RuleDoc } from '../rule';

export const badTempo: RuleDoc = {
  id: 'bad-tempo',
  severity: 'error',
  what: 'A tempo is not written as beats a minute, with swing or straight.',
  why: 'Playback and the printed tempo depend on it.',
  example: 'phrase "A"\n  tempo fast\n',
  instead: 'phrase "A"\n  tempo 144 swing\n',
  fix: 'Write a number from 20 to 400, then swing or straight if you wish, and a ratio such as 2:1 after swing.',
  message: () => 'A tempo is a number from 20 to 400, then swing or straight: 144 swing, 96 straight, 120 swing 2:1.',
};
