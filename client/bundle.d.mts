import type { Metafile } from 'esbuild';

/** Puts all that ships into a folder; answers what esbuild says of each bundle. */
export function bundleAll(to: string): Promise<Metafile[]>;
