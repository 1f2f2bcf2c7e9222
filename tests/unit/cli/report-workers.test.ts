/** Reports of many files by several workers: the same as by one, in the order of the files. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../server/src/features/options';
import { pieceOf, type ReportOrder } from '../../../server/src/file-reports';
import { LESSONS, nameSources, type NamedSource } from '../../../server/src/read-text';
import { piecesOf } from '../../../server/src/report-workers';
import { bundledCli } from '../../lsp/bundles';

const CHECK: ReportOrder = { command: 'check', format: 'text', length: 'bars', settings: DEFAULT_SETTINGS };
const FILES = 12;

let folder: string;
let built: string;
let sources: readonly NamedSource[];

beforeAll(async () => {
  built = await bundledCli();
  folder = mkdtempSync(join(tmpdir(), 'phrasewright-'));
  // Long and short files by turns, so that workers finish out of turn; each says its own number.
  for (let i = 0; i < FILES; i += 1) {
    const phrases = Array.from(
      { length: i % 2 === 0 ? 60 : 2 },
      (_, n) => `phrase "File ${i}, number ${n}"\n  over | Cmaj7 |\n  line | ${n === 0 ? 'F4' : 'E4'} G C5 ~ |\n`,
    );
    writeFileSync(join(folder, `lesson-${String(i).padStart(2, '0')}.phrase`), phrases.join('\n'));
  }
  sources = await nameSources([folder], LESSONS);
});
afterAll(() => rmSync(folder, { recursive: true }));

async function all(order: ReportOrder, of: readonly NamedSource[], count: number) {
  const pieces = [];
  for await (const piece of piecesOf(order, of, { file: built, count })) pieces.push(piece);
  return pieces;
}

describe('several workers', () => {
  test.each([
    ['check', CHECK],
    ['explain', { ...CHECK, command: 'explain', length: 'line' }],
    ['check as JSON', { ...CHECK, format: 'json' }],
  ] as [string, ReportOrder][])('say what one says: %s', async (_, order) => {
    const pieces = await all(order, sources, 3);
    expect(pieces).toEqual(sources.map((source) => pieceOf(order, source)));
    expect(pieces).toHaveLength(FILES);
  });

  test('a file that vanishes meanwhile is named', async () => {
    const gone = join(folder, 'gone.phrase');
    await expect(all(CHECK, [...sources, { file: gone, name: 'gone', size: 1, bytes: null }], 2)).rejects.toThrow(
      `${gone}: there is no such file.`,
    );
  });

  test('a worker that cannot start is told, not waited for', async () => {
    const pieces = async (): Promise<void> => {
      for await (const _ of piecesOf(CHECK, sources, { file: join(folder, 'no-worker.cjs'), count: 2 })) break;
    };
    await expect(pieces()).rejects.toThrow('no-worker.cjs');
  });
});
