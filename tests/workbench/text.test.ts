/** What is done beside the text of one lesson, in one window. */
import { suitesInOneWindow } from './harness';

// In a browser the editor would save by itself once a second passes without a key, which a busy machine brings about; what is saved is told of.
suitesInOneWindow(
  { 'files.autoSave': 'off' },
  {
    'main job': () => import('./main-job.suite'),
    typing: () => import('./typing.suite'),
    score: () => import('./score.suite'),
    places: () => import('./places.suite'),
    'long lesson': () => import('./long-lesson.suite'),
  },
);
