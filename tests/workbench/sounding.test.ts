/** What is heard, in one window: as it plays, and as a sound file. */
import { suitesInOneWindow } from './harness';

suitesInOneWindow(
  {},
  {
    sound: () => import('./sound.suite'),
    'sound file': () => import('./sound-file.suite'),
  },
);
