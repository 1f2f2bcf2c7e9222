/** What goes out of the editor as files and comes into it, in one window. */
import { suitesInOneWindow } from './harness';

// In a browser the editor would save by itself.
suitesInOneWindow(
  { 'files.autoSave': 'off' },
  {
    'hand out and export': () => import('./handout.suite'),
    'bring in': () => import('./bring-in.suite'),
  },
);
