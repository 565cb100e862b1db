import { configDefaults, defineConfig } from 'vitest/config';

/** What runs processes of its own, or takes over the streams. */
const APART = ['test/notebook/**/*.test.ts', 'test/commands/**/*.test.ts'];

/** Long studies, whole notebooks and the browser: `npm run test-long`. */
export const LONG = [
  'test/**/*.chromium.test.ts',
  'test/commands/compare.test.ts',
  'test/commands/notebook.test.ts',
  'test/commands/writeOutputs.test.ts',
  'test/joints/laterReadings.test.ts',
  'test/measure/killed.test.ts',
  'test/notebook/browser.test.ts',
  'test/notebook/cellCompiler.test.ts',
  'test/notebook/drawFigures.test.ts',
  'test/notebook/headless.test.ts',
  'test/notebook/lessons.test.ts',
  'test/notebook/*otebook.test.ts',
  'test/notebook/notebooks.test.ts',
  'test/plan/planFollowed.test.ts',
  'test/power/coverage.test.ts',
];

export default defineConfig({
  test: {
    // A test that asserts nothing is a defect, so it fails.
    expect: { requireAssertions: true },
    testTimeout: 30_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'method',
          include: ['test/**/*.test.ts'],
          exclude: [...configDefaults.exclude, ...APART, ...LONG],
          // Pure functions share no state: one world for all files halves the time.
          isolate: false,
        },
      },
      {
        extends: true,
        test: { name: 'apart', include: APART, exclude: [...configDefaults.exclude, ...LONG] },
      },
      { extends: true, test: { name: 'long', include: LONG } },
    ],
  },
});
