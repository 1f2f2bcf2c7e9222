/**
 * How far the points behind the suggested level agree with thirty phrases that a judge ranked twice (`tests/unit/data/level-rankings.tsv`).
 * Prints Spearman's correlations and fails below 0.8.
 */
import { build } from 'esbuild';

const LEAST = 0.8;

const { outputFiles } = await build({
  entryPoints: ['tests/bench/level-agreement.ts'],
  bundle: true,
  platform: 'node',
  format: 'esm',
  write: false,
});
const { levelAgreement } = await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
const { phrases, rankings, points, samples } = levelAgreement(process.cwd());
console.log(
  `suggested level, Spearman: ${points.toFixed(2)} with the ranking of ${phrases} phrases (its two rankings ${rankings.toFixed(2)}), ${samples.points.toFixed(2)} with the levels written in ${samples.phrases} samples`,
);
process.exitCode = points >= LEAST && rankings >= LEAST ? 0 : 1;
