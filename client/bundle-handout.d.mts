import type { BuildOptions, BuildResult } from 'esbuild';

/** Puts the worker that makes handouts into a folder, with all that it loads beside it. */
export function bundleHandout(to: string, options: BuildOptions): Promise<BuildResult>;
