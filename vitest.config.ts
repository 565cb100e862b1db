import { configDefaults, defineConfig } from 'vitest/config';

/** What runs processes of its own, or takes over the streams. */
const APART = ['test/notebook/**/*.test.ts', 'test/commands/**/*.test.ts'];

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
          exclude: [...configDefaults.exclude, ...APART],
          // Pure functions share no state: one world for all files halves the time.
          isolate: false,
        },
      },
      { extends: true, test: { name: 'notebook', include: APART } },
    ],
  },
});
