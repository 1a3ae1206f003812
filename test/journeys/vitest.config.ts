import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['test/journeys/**/*.test.ts'],
    env: { TZ: 'UTC' },
    testTimeout: 180_000,
    hookTimeout: 120_000,
    globalSetup: ['test/journeys/server.ts'],
    maxWorkers: 1,
    fileParallelism: false,
  },
});
