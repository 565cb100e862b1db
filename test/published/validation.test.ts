import { fileURLToPath } from 'node:url';
import { expect, test, vi } from 'vitest';
import { lists, validationPage } from './page.js';

// All Monte Carlo cases are computed here once more where another worker has them.
vi.setConfig({ testTimeout: 120_000 });

const PAGE = fileURLToPath(new URL('../../docs/validation.md', import.meta.url));

// Not a check of the figures (their own tests are that), but of the page: it says what the lists say.
test('docs/validation.md is current; if not, npm run validation makes it anew', async () => {
  await expect(await validationPage()).toMatchFileSnapshot(PAGE);
});

test('a figure that may be further off than half a unit says why', async () => {
  const figures = (await lists()).flatMap(([, sources]) => sources.flatMap((one) => one.figures));
  expect(figures.length).toBeGreaterThan(150);
  const silent = figures.filter(
    ({ within, relative, note }) => (within ?? relative) !== undefined && note === undefined,
  );
  expect(silent.map(({ quantity }) => quantity)).toEqual([]);
});
