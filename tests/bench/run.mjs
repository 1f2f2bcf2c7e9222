/** All benches, one after the other, each in a process of its own, so that none troubles another. Fails where one does. Run after `npm run build`. */
import { spawnSync } from 'node:child_process';

const BENCHES = ['keystroke', 'turn', 'actions', 'score', 'folder', 'level'];

const failed = BENCHES.filter((name) => spawnSync(process.execPath, [`tests/bench/${name}.mjs`], { stdio: 'inherit' }).status !== 0);
if (failed.length > 0) console.log(`above what is allowed: ${failed.join(', ')}`);
process.exitCode = failed.length === 0 ? 0 : 1;
