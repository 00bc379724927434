import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url)).replace(/[\\/]$/, '');

/** The tests of the pure library alone: what is tried on each mutant. */
export default defineConfig({
  root,
  resolve: { alias: { '@': root } },
  test: {
    include: ['tests/lib/**/*.test.ts', 'tests/published/**/*.test.ts'],
    testTimeout: 60_000,
  },
});
