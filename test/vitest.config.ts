import { defineConfig } from 'vitest/config';

const root = new URL('..', import.meta.url).pathname;
const common = {
  root,
  env: { TZ: 'UTC' },
  testTimeout: 180_000,
  hookTimeout: 120_000,
  // Nothing is mocked and no module keeps a test's state, so files share what they import: half the run was loading.
  isolate: false,
};
/** Folders whose tests need a database; only they wait for the PostgreSQL of the test set-up. */
const DATABASE = ['store', 'followup', 'faults', 'web', 'commands'].map(
  (folder) => `test/${folder}/**/*.test.{ts,tsx}`,
);

export default defineConfig({
  test: {
    maxWorkers: 2,
    projects: [
      {
        test: {
          ...common,
          name: 'core',
          include: ['test/**/*.test.{ts,tsx}'],
          exclude: ['test/journeys/**', ...DATABASE],
        },
      },
      { test: { ...common, name: 'database', include: DATABASE, globalSetup: ['test/setup/global.ts'] } },
    ],
  },
});
