import { fileURLToPath } from 'node:url';
import { expect, test, vi } from 'vitest';
import { validationPage } from './page.js';

// All Monte Carlo cases are computed here once more where another worker has them.
vi.setConfig({ testTimeout: 120_000 });

const PAGE = fileURLToPath(new URL('../../docs/validation.md', import.meta.url));

// Not a check of the figures (their own tests are that), but of the page: it says what the lists say.
test('docs/validation.md is current; if not, npm run validation makes it anew', async () => {
  await expect(await validationPage()).toMatchFileSnapshot(PAGE);
});
