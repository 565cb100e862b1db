import { describe, expect, test } from 'vitest';
import { findSlips } from '../../src/record/slips/findSlips.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { SlipCase } from './slipStudies.js';
import { names, slipStudy } from './slipStudies.js';

/**
 * A smaller run of the simulation behind docs/measured.md, with the rates promised there:
 * `named`, of all studies the part whose slip is named rightly; `alone`, the part in which no other
 * row is named.
 */
const STUDIES = 40;

function outcome(wanted: SlipCase, seed: number) {
  const random = seededRandom(seed);
  const count = { named: 0, alone: 0, silent: 0, clear: 0, clearNamed: 0 };
  for (let i = 0; i < STUDIES; i += 1) {
    const { study, slip } = slipStudy(random, wanted);
    const suspects = findSlips(study);
    if (suspects.length === 0) count.silent += 1;
    if (slip === null) continue;
    const named = suspects.some((suspect) => names(suspect, slip));
    const others = suspects.some(({ rows }) => !rows.some((row) => slip.rows.includes(row)));
    if (named) count.named += 1;
    if (!others) count.alone += 1;
    // Digits exchanged in a first run pass for a cold start, and small ones for scatter.
    if (slip.first || slip.sigmas < 4) continue;
    count.clear += 1;
    if (named) count.clearNamed += 1;
  }
  return count;
}

describe('slips in simulated studies', () => {
  test.each<[SlipCase, number]>([
    ['decimal place', 0.98],
    ['decimal place, peak', 0.95],
    ['decimal place, zero', 0.9],
    ['unit, one entry', 0.98],
    ['unit, whole meter', 0.95],
    ['lap exchanged', 0.9],
    ['row twice', 0.95],
    ['series exchanged', 0.95],
  ])('%s: named in at least %d, and nothing else in 95 %%', (wanted, least) => {
    const { named, alone } = outcome(wanted, 31);
    expect(named / STUDIES).toBeGreaterThanOrEqual(least);
    expect(alone / STUDIES).toBeGreaterThanOrEqual(0.95);
  });

  test('digits that stand clear of the scatter: named in 90 %, and nothing else in 95 %', () => {
    const { clear, clearNamed, alone } = outcome('digits', 32);
    expect(clear).toBeGreaterThan(STUDIES / 2);
    expect(clearNamed / clear).toBeGreaterThanOrEqual(0.9);
    expect(alone / STUDIES).toBeGreaterThanOrEqual(0.95);
  });

  test.each<[SlipCase, number]>([
    ['clean', 0.96],
    ['unstable', 0.95],
    // A hop of a single run may be what two exchanged digits would give.
    ['hopping', 0.85],
  ])('%s studies are left alone in at least %d', (wanted, least) => {
    expect(outcome(wanted, 33).silent / STUDIES).toBeGreaterThanOrEqual(least);
  });
});
