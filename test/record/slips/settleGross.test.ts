/** How near a mended entry has to come, from fits written down. */
import { expect, test } from 'vitest';
import type { CourseFit } from '../../../src/record/slips/courseFit.js';
import { entriesOf } from '../../../src/record/slips/entries.js';
import type { Repair } from '../../../src/record/slips/repairs.js';
import { settleGross } from '../../../src/record/slips/settleGross.js';
import { runsOf, seriesOf } from '../../series/runs.js';

const FLOOR = 1e-6;

/**
 * What becomes of a repair of the entry at a place, which stays `off` from where its neighbours put it;
 * `others` is what they leave of squares by themselves, 3 degrees of freedom.
 */
function settled(at: number, off: number, others = 0, own = 0.5): string {
  const list = entriesOf(seriesOf(runsOf('RRRRR', () => 44)));
  const unit = new Array<number>(5).fill(Math.sqrt(own / 4));
  unit[at] = Math.sqrt(1 - own);
  const rest = new Array<number>(5).fill(0);
  rest[at] = off * own;
  const fit: CourseFit = {
    course: {
      basis: [unit],
      own: unit.map((share) => 1 - share ** 2),
      scale: 1,
      bounds: null,
      hop: null,
      early: false,
      coefficients: 1,
    },
    rest,
    squares: off ** 2 * own + others,
    free: 4,
    last: 0,
  };
  const y = Math.log(44);
  const repair: Repair = {
    kind: 'decimal-place',
    quantity: 'reading',
    changes: [{ index: at, y }],
    found: 440,
    likely: 44,
  };
  // No two digits of 44 can be exchanged, and another place of the point lies far off
  const scene = {
    active: [0, 1, 2, 3, 4],
    y: Array(5).fill(y),
    fits: [fit],
    floor: FLOOR,
    cost: 0,
  };
  return settleGross(list, [repair], scene)[0]!.kind;
}

test('a quarter off is near, more is explained by nothing', () => {
  const quarter = Math.log(1.25);
  expect([0.999, 1.001].map((part) => settled(3, quarter * part))).toEqual([
    'decimal-place',
    'other',
  ]);
  expect([0.999, 1.001].map((part) => settled(3, -quarter * part))).toEqual([
    'decimal-place',
    'other',
  ]);
});

test('in the first two runs, which may be cold, 60 %', () => {
  const cold = Math.log(1.6);
  const of = (at: number) => [0.999, 1.001].map((part) => settled(at, cold * part));
  expect([of(0), of(1), of(2)]).toEqual([
    ['decimal-place', 'other'],
    ['decimal-place', 'other'],
    ['other', 'other'],
  ]);
});

test('or five standard deviations of the others, which the entry itself does not widen', () => {
  // 5 s/√0.5 = 0.4: s² = 0.0032, 3 degrees of freedom
  const others = 3 * (0.0032 - FLOOR);
  expect([1.01, 0.99].map((part) => settled(3, 0.4, others * part))).toEqual([
    'decimal-place',
    'other',
  ]);
});
