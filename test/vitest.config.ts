import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/journeys/**', 'node_modules/**'],
    env: { TZ: 'UTC' },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
  },
});
