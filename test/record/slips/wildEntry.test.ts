/** The entry that nothing explains, from courses and their fits written down. */
import { expect, test } from 'vitest';
import type { CourseFit } from '../../../src/record/slips/courseFit.js';
import { entriesOf } from '../../../src/record/slips/entries.js';
import type { Course } from '../../../src/record/slips/ordinaryCourses.js';
import { wildEntry } from '../../../src/record/slips/wildEntry.js';
import { runsOf, seriesOf } from '../../series/runs.js';

const LIST = entriesOf(seriesOf(runsOf('RRRRRR', () => 46)));

/** A course of five runs that follows the one at `at` so far that `own` of it is left. */
function fitOf(
  at: number,
  off: number,
  more: {
    readonly own?: number;
    readonly early?: boolean;
    readonly others?: number;
    readonly coefficients?: number;
  } = {},
): CourseFit {
  const { own = 0.5, early = false, others = 0, coefficients = 1 } = more;
  const unit = new Array<number>(5).fill(Math.sqrt(own / 4));
  unit[at] = Math.sqrt(1 - own);
  const course: Course = {
    basis: [unit],
    own: unit.map((share) => 1 - share ** 2),
    scale: 1,
    bounds: null,
    hop: null,
    early,
    coefficients,
  };
  const rest = new Array<number>(5).fill(0);
  rest[at] = off * own;
  // Without the entry the others leave so much
  return { course, rest, squares: off ** 2 * own + others, free: 4, last: 0 };
}
const FLOOR = 1e-6;
/** What leaving the entry out costs: n ln(others/3 + floor) and 2 for the coefficient and the entry each. */
const COST = 5 * Math.log(FLOOR) + 4;

const found = (
  fits: readonly CourseFit[],
  more: { readonly cost?: number; readonly touched?: readonly number[] } = {},
) => {
  // The second entry counts no more: places are those of the others
  const scene = {
    active: [0, 2, 3, 4, 5],
    y: [],
    fits,
    floor: FLOOR,
    cost: more.cost ?? COST + 100,
  };
  return wildEntry(LIST, scene, new Set(more.touched ?? []))?.changes[0]?.index ?? null;
};

test('is named by its place in the whole list', () => {
  expect([0, 1, 2, 4].map((at) => found([fitOf(at, 1)]))).toEqual([0, 2, 3, 5]);
  expect(found([fitOf(2, 1)], { touched: [3] })).toBeNull();
  expect(found([fitOf(2, 1)], { touched: [2] })).toBe(3);
});

test('is half as much again off, or a third less', () => {
  const bound = Math.log(1.5);
  expect([bound * 0.999, bound * 1.001].map((off) => found([fitOf(2, off)]))).toEqual([null, 3]);
  expect([-bound * 0.999, -bound * 1.001].map((off) => found([fitOf(2, off)]))).toEqual([null, 3]);
});

test('and eight standard deviations of what the others leave', () => {
  // s² = others/3 + floor; 8 s/√0.5 = 1: s² = 1/128
  const others = 3 * (1 / 128 - FLOOR);
  const of = (factor: number) => found([fitOf(2, 1, { others: others * factor })], { cost: 1e9 });
  expect([of(0.99), of(1.01)]).toEqual([3, null]);
});

test('from a course that follows it by less than four fifths', () => {
  expect([0.19, 0.21].map((own) => found([fitOf(2, 1, { own })]))).toEqual([null, 3]);
});

test('and in the first two runs from none that is about those alone', () => {
  const early = (at: number) => found([fitOf(at, 1, { early: true })]);
  expect([0, 1, 2].map(early)).toEqual([null, null, 3]);
});

test('where leaving it out makes the series cost 16 less', () => {
  expect([15.99, 16.01].map((gain) => found([fitOf(2, 1)], { cost: COST + gain }))).toEqual([
    null,
    3,
  ]);
});

test('of several, the one without which the series costs least', () => {
  const dear = fitOf(2, 1, { coefficients: 3 });
  expect([found([dear, fitOf(4, 1)]), found([fitOf(1, 1), dear])]).toEqual([5, 2]);
});
