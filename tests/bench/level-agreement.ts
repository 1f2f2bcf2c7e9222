/** How far the points behind the suggested level agree with rankings made before they were computed. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_THEORY, readPhrase } from '../../server/src/analysis/read';
import type { Reading } from '../../server/src/analysis/types';
import { levelOf } from '../../server/src/explain/level';
import { openSnapshot } from '../../server/src/model/snapshot';

/** Spearman's rank correlations, from -1 to 1. */
export interface LevelAgreement {
  readonly phrases: number;
  /** Of the two rankings with each other: no measure can be expected to do better. */
  readonly rankings: number;
  /** Of the points with the mean of the two rankings. */
  readonly points: number;
  /** Of the points with the levels that the samples' writers gave: phrases that nothing was weighed by. */
  readonly samples: { readonly phrases: number; readonly points: number };
}

/** `root` is the project's folder. */
export function levelAgreement(root: string): LevelAgreement {
  const data = join(root, 'tests/unit/data');
  const ranks = new Map(
    rowsOf(readFileSync(join(data, 'level-rankings.tsv'), 'utf8')).map(([name, first, second]) => [
      name!,
      [Number(first), Number(second)] as const,
    ]),
  );
  const readings = readingsOf(join(data, 'level-phrases.phrase'));
  const ranked = readings.map(({ phrase }) => ranks.get(phrase.name)!);
  const samples = readdirSync(join(root, 'samples'))
    .filter((file) => file.endsWith('.phrase'))
    .flatMap((file) => readingsOf(join(root, 'samples', file)))
    .filter(({ phrase }) => phrase.level !== null);
  return {
    phrases: readings.length,
    rankings: rankCorrelation(
      ranked.map(([first]) => first),
      ranked.map(([, second]) => second),
    ),
    points: rankCorrelation(
      ranked.map(([first, second]) => first + second),
      readings.map(pointsOf),
    ),
    samples: {
      phrases: samples.length,
      points: rankCorrelation(
        samples.map(({ phrase }) => phrase.level!),
        samples.map(pointsOf),
      ),
    },
  };
}

/** Spearman's coefficient: Pearson's of the ranks, equal values sharing the mean of theirs. */
export function rankCorrelation(a: readonly number[], b: readonly number[]): number {
  const [x, y] = [deviations(ranksOf(a)), deviations(ranksOf(b))];
  return product(x, y) / Math.sqrt(product(x, x) * product(y, y));
}

function ranksOf(values: readonly number[]): number[] {
  return values.map((value) => values.filter((other) => other < value).length + (values.filter((other) => other === value).length + 1) / 2);
}

function deviations(values: readonly number[]): number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.map((value) => value - mean);
}

function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}

function pointsOf(reading: Reading): number {
  return levelOf(reading).points;
}

function readingsOf(file: string): Reading[] {
  return openSnapshot('', 1, readFileSync(file, 'utf8')).phrases.map(({ phrase }) => readPhrase(phrase, DEFAULT_THEORY));
}

function rowsOf(table: string): string[][] {
  return table
    .split('\n')
    .filter((row) => row !== '' && !row.startsWith('#'))
    .map((row) => row.split('\t'));
}
