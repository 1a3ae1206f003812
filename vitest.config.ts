import { defineConfig } from 'vitest/config';

export default defineConfig({
  esbuild: false,
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/journeys/**', 'node_modules/**'],
    globalSetup: ['test/setup/global.ts'],
    env: { TZ: 'UTC' },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
  },
});
