import { configDefaults, defineConfig } from 'vitest/config';
import type { Reporter, Vitest } from 'vitest/node';
import whole, { LONG } from './vitest.config';

let vitest: Vitest;

/** Where a fault keeps a file of tests from being loaded, the mutation runner sees nothing fail. */
const loading: Reporter = {
  onInit: (one) => {
    vitest = one;
  },
  onTestModuleEnd: (module) => {
    for (const error of module.errors()) vitest.state.catchError(error, 'Not loaded');
  },
};

/** The tests of the method alone: what runs processes, a browser or the built package kills no mutant. */
export default defineConfig({
  test: {
    ...whole.test,
    projects: undefined,
    // As scripts/mutate.mjs asks.
    include: process.env.MUTATE_TESTS?.split(',') ?? ['test/**/*.test.ts'],
    exclude: [
      ...configDefaults.exclude,
      ...LONG.filter((path) => path !== 'test/commands/writeOutputs.test.ts'),
      'test/{notebook,docs}/**',
      'test/commands/{guide,notebook}.test.ts',
      'test/architecture.test.ts',
      'test/published/peakFlow.test.ts',
      // It reads what these runs write.
      'test/published/validation.test.ts',
    ],
    isolate: false,
    reporters: [loading],
    testTimeout: 60_000,
  },
});
