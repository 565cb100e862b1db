import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    // A test that asserts nothing is a defect, so it fails.
    expect: { requireAssertions: true },
    testTimeout: 30_000,
  },
});
