import { configDefaults, defineConfig } from 'vitest/config';
import whole from './vitest.config';

/** The tests of the method alone: what runs processes, a browser or the built package kills no mutant. */
export default defineConfig({
  test: {
    ...whole.test,
    projects: undefined,
    // As scripts/mutate.mjs asks.
    include: process.env.MUTATE_TESTS?.split(',') ?? ['test/**/*.test.ts'],
    exclude: [
      ...configDefaults.exclude,
      'test/{notebook,commands,docs}/**',
      'test/**/{*.chromium,killed}.test.ts',
      'test/architecture.test.ts',
      'test/published/peakFlow.test.ts',
      // It reads what these runs write.
      'test/published/validation.test.ts',
    ],
    isolate: false,
    testTimeout: 60_000,
  },
});
