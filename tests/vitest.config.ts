import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      { test: { name: 'core', root: '.', include: ['tests/{unit,property,outside,lsp}/**/*.test.ts'], testTimeout: 30_000 } },
      // One editor and one browser at a time: the machine is small, and screens that race each other flicker.
      { test: { name: 'workbench', root: '.', include: ['tests/workbench/**/*.test.ts'], testTimeout: 180_000, hookTimeout: 240_000, fileParallelism: false } },
    ],
  },
});
