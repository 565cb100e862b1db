import { expect, it } from 'vitest';
import { unbroken, wholeDates } from '../../src/findings/unbroken.js';

it.each([
  ['68 to 77 mW at 405 nm', '68 to 77_mW at 405_nm'],
  ['± 3.7 % of it', '±_3.7_% of it'],
  ['U / %', 'U_/_%'],
  ['class 3B, run 4 (p < 0.001)', 'class 3B, run_4 (p_<_0.001)'.replace('class 3B', 'class_3B')],
  ['k = 1.97, ν = ∞', 'k_=_1.97, ν_=_∞'],
  ['K = 1.216 ± 0.045', 'K_=_1.216_±_0.045'],
  ['2025-01-20: speaks', '2025-01-20: speaks'],
  // A word that begins like a unit is none.
  ['10 seconds or 4 nmb', '10 seconds or 4 nmb'],
])('"%s" keeps together what belongs together', (text, kept) => {
  expect(unbroken(text).replaceAll('\u00a0', '_')).toBe(kept);
});

it('a date on a page is not parted', () => {
  expect(wholeDates('2025-01-20: run 1-2, 12025-01-20').replaceAll('\u2011', '~')).toBe(
    '2025~01~20: run 1-2, 12025-01-20',
  );
});
