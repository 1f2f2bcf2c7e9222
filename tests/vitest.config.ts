import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      { test: { name: 'core', root: '.', include: ['tests/{unit,property,outside,lsp,fuzz}/**/*.test.ts'], testTimeout: 30_000, sequence: { groupOrder: 0 } } },
      // One editor and one browser at a time, after all else: the machine is small, and screens that race each other flicker. What another
      // job on the machine holds up is tried again; a fault of ours shows every time.
      { test: { name: 'workbench', root: '.', include: ['tests/workbench/**/*.test.ts'], testTimeout: 180_000, hookTimeout: 240_000, fileParallelism: false, retry: 2, sequence: { groupOrder: 1 } } },
    ],
  },
});
