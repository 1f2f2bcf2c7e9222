/** What is typed is what is written: the lists of completions offer, and take no key for themselves. */
import { expect, test } from 'vitest';
import { workbenchOfFile } from './harness';

const bench = workbenchOfFile();

test('rows are typed to their ends with Enter, and a scale is chosen after a colon', async () => {
  const head = 'cell down = 5-3 2-1\nchanges turn = | C |\nphrase "Ferry bell"\n';
  await bench.openText('typing.phrase', head);
  await bench.goTo(4, 1);
  const type = (text: string): Promise<void> => bench.page.keyboard.type(text, { delay: 50 });
  const rows = '  key Eb major\n  over | Ebm7 Ab7 | Dbmaj7\n  line | D4 F A C | Db-F G ~ . |\n  part trumpet\n  tempo 120 swing\n';
  // The editor indents the rows below the first one itself.
  await type(rows.replaceAll('\n  ', '\n'));
  await type('over | Bb7:');
  const list = bench.page.locator('.suggest-widget.visible .monaco-list-row');
  await list.filter({ hasText: 'mixolydian' }).first().waitFor();
  await type('lyd');
  await list.first().filter({ hasText: 'lydian-dominant' }).waitFor();
  await bench.page.keyboard.press('Tab');
  await type(' |');
  expect(await bench.saved('typing.phrase')).toBe(`${head}${rows}  over | Bb7:lydian-dominant |`);
});
