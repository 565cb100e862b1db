import { configDefaults, defineConfig } from 'vitest/config';

const NOTEBOOKS = 'test/notebook/**/*.test.ts';

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
          exclude: [...configDefaults.exclude, NOTEBOOKS],
          // Pure functions share no state: one world for all files halves the time.
          isolate: false,
        },
      },
      { extends: true, test: { name: 'notebook', include: [NOTEBOOKS] } },
    ],
  },
});
