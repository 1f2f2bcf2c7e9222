/** The main job as a writer does it: type a phrase, see it judged, read why, repair it. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openWorkbench, type Workbench } from './harness';

let bench: Workbench;
beforeAll(async () => {
  bench = await openWorkbench();
});
afterAll(async () => {
  await bench?.close();
});

const LESSON = 'phrase "Harbour steps"\n  key     C major\n  over    | Dm7 G7        | Cmaj7         |\n  line    | ';

test('an avoid note on beat 1 is flagged, explained and repaired', async () => {
  await bench.openText('lesson.phrase', LESSON);
  await bench.goTo(4, 13);
  await bench.page.keyboard.type('D4 F A G | F-A C-E G ~ |');
  await bench.squiggles('warning').first().waitFor();
  await bench.picture('clash');
  const hover = await bench.hoverWord(4, 'F');
  await bench.picture('hover');
  expect(hover).toContain('F');
});
