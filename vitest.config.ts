import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('.', import.meta.url));
const alias = {
  '@': root.replace(/\/$/, ''),
  'server-only': `${root}tests/support/server-only.ts`,
};

// Projects that open a database or a browser take turns: two cores, one cluster.
const oneAtATime = { pool: 'forks', maxWorkers: 1, fileParallelism: false } as const;

export default defineConfig({
  resolve: { alias },
  test: {
    // Files share what they import: to load it for each took a fifth of the time.
    isolate: false,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: [
            'tests/lib/**/*.test.ts',
            'tests/published/**/*.test.ts',
            'tests/app/**/*.test.ts',
            'tests/seed/**/*.test.ts',
            'tests/*.test.ts',
          ],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'database',
          include: ['tests/db/**/*.test.ts', 'tests/faults/*.test.ts'],
          globalSetup: ['tests/support/embedded-template.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          ...oneAtATime,
        },
      },
      {
        extends: true,
        test: {
          name: 'served',
          include: ['tests/faults/served/*.test.ts'],
          testTimeout: 120_000,
          expect: { poll: { timeout: 60_000 } },
          hookTimeout: 240_000,
          ...oneAtATime,
        },
      },
      {
        extends: true,
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          globalSetup: ['tests/support/serve.ts'],
          testTimeout: 120_000,
          expect: { poll: { timeout: 60_000 } },
          hookTimeout: 240_000,
          ...oneAtATime,
        },
      },
    ],
  },
});
