/** Courses of a source and their fits against plain least squares. */
import { describe, expect, test } from 'vitest';
import {
  type CourseFit,
  changedSquares,
  costOf,
  courseCost,
  fitCourse,
  isOrdinary,
  leastSquaresAt,
  squaresFor,
} from '../../src/record/slips/courseFit.js';
import {
  type Course,
  ordinaryCourses,
  secondHops,
} from '../../src/record/slips/ordinaryCourses.js';
import { leastSquares } from '../../src/statistics/leastSquares.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';

const GROUPS = [0, 1, 1, 0, 0, 1, 1, 0, 0, 1];
const N = GROUPS.length;
const random = seededRandom(3);
const Y = GROUPS.map((group) => 4 - 0.1 * group + 0.02 * random.normal());

/** What is left of `y` by a fit on columns of any kind. */
function squaresOf(columns: readonly (readonly number[])[], y: readonly number[] = Y): number {
  const design = y.map((_, i) => columns.map((column) => column[i]!));
  return leastSquares(design, [...y]).residualSumOfSquares;
}
const runs = (value: (i: number) => number) => Array.from({ length: N }, (_, i) => value(i));
const LEVELS = [0, 1].map((one) => GROUPS.map((group) => (group === one ? 1 : 0)));
const LINE = runs((i) => i);
const hop = (place: number) => runs((i) => (i >= place ? 1 : 0));

describe('the ordinary courses of ten runs of two meters', () => {
  const courses = ordinaryCourses(GROUPS);

  test('are as many as listed: 3 polynomials, 3 warmings, 4 · 3 cold starts, hops at 2 to 8', () => {
    expect(courses).toHaveLength(3 + 3 + 12 + 7);
    expect(courses.filter(({ hop }) => hop !== null).map(({ hop }) => hop)).toEqual([
      2, 3, 4, 5, 6, 7, 8,
    ]);
    // Cold starts, a warming over two runs, a hop after two.
    expect(courses.filter(({ early }) => early)).toHaveLength(12 + 1 + 1);
    expect(courses.filter(({ bounds }) => bounds === null)).toHaveLength(3);
  });

  test('have an orthonormal basis, and a coefficient more where one was chosen from a list', () => {
    for (const { basis, bounds, coefficients } of courses) {
      basis.forEach((a, i) => {
        basis.forEach((b, j) => {
          near(
            a.reduce((sum, value, k) => sum + value * b[k]!, 0),
            i === j ? 1 : 0,
            1e-12,
          );
        });
      });
      expect(coefficients).toBe(basis.length + (bounds === null ? 0 : 1));
    }
  });

  const squares = courses.map((course) => fitCourse(course, Y).squares);
  const square = runs((i) => i * i);
  const cold = (decay: number) => runs((i) => (i === 0 ? 1 : i === 1 ? decay : 0));
  test.each<readonly [string, number, readonly (readonly number[])[]]>([
    ['levels', 0, LEVELS],
    ['a line', 1, [...LEVELS, LINE]],
    ['a parabola', 2, [...LEVELS, LINE, square]],
    ['warming over 2 runs', 3, [...LEVELS, LINE, runs((i) => Math.exp(-i / 2))]],
    ['warming over 8 runs', 5, [...LEVELS, LINE, runs((i) => Math.exp(-i / 8))]],
    ['a cold first run', 6, [...LEVELS, cold(0)]],
    ['a cold start on a parabola', 11, [...LEVELS, LINE, square, cold(0.35)]],
    ['two runs as cold', 16, [...LEVELS, LINE, cold(1)]],
    ['a hop after two runs', 18, [...LEVELS, LINE, hop(2)]],
    ['a hop before the last two', 24, [...LEVELS, LINE, hop(8)]],
  ])('%s: what is left is that of least squares on its columns', (_, place, columns) => {
    near(squares[place], squaresOf(columns), 1e-12);
  });

  test('a cubic from 14 runs on; courses that leave fewer than three degrees of freedom are none', () => {
    const cubics = (n: number) =>
      ordinaryCourses(Array.from({ length: n }, () => 0)).filter(
        ({ bounds, basis }) => bounds === null && basis.length === 4,
      ).length;
    expect([13, 14].map(cubics)).toEqual([0, 1]);
    const least = (n: number) =>
      ordinaryCourses(Array.from({ length: n }, () => 0)).map(({ basis }) => n - basis.length);
    expect([3, 4].map((n) => least(n))).toEqual([[], [3]]);
    expect(Math.min(...least(6))).toBe(3);
  });

  test('of many runs at most 40 hops are looked at', () => {
    const hops = ordinaryCourses(Array.from({ length: 124 }, () => 0)).flatMap(
      ({ hop }) => hop ?? [],
    );
    // 121 places: every fourth
    expect(hops).toHaveLength(31);
    expect(hops.slice(0, 3)).toEqual([2, 6, 10]);
  });
});

describe('readings changed without a new fit', () => {
  const fits = ordinaryCourses(GROUPS).map((course) => fitCourse(course, Y));
  const changed = (deltas: readonly { readonly index: number; readonly delta: number }[]) =>
    Y.map((y, i) => y + deltas.reduce((sum, one) => sum + (one.index === i ? one.delta : 0), 0));

  test.each([
    [[{ index: 4, delta: 0.3 }]],
    [[{ index: 0, delta: -0.2 }]],
    [
      [
        { index: 2, delta: 0.3 },
        { index: 7, delta: -0.4 },
      ],
    ],
  ])('%j leave the squares of the fit to them', (deltas) => {
    for (const fit of fits) {
      near(changedSquares(fit, deltas), fitCourse(fit.course, changed(deltas)).squares, 1e-12);
    }
  });

  test('the least that any change of one reading leaves is that of the fit without it', () => {
    const levels = fits[0]!;
    const without = LEVELS.map((column) => column.filter((_, i) => i !== 3));
    near(
      leastSquaresAt(levels, 3),
      squaresOf(
        without,
        Y.filter((_, i) => i !== 3),
      ),
      1e-9,
    );
    // A cold first run alone follows its reading wherever it goes.
    expect(leastSquaresAt(fits[6]!, 0)).toBe(0);
  });

  test('a course stays ordinary as long as its last coefficient is within its bounds', () => {
    const first = fits[6]!;
    expect(first.course.bounds).toEqual([Math.log(0.62), Math.log(1.35)]);
    // The first run alone has its coefficient: its own level against the others of its meter
    const others = Y.filter((_, i) => GROUPS[i] === 0 && i > 0);
    const height = Y[0]! - others.reduce((sum, y) => sum + y, 0) / others.length;
    const to = (coefficient: number) => [{ index: 0, delta: coefficient - height }];
    expect(
      [Math.log(0.62), Math.log(1.35)].map((bound) => [
        isOrdinary(first, to(bound * 0.999)),
        isOrdinary(first, to(bound * 1.001)),
      ]),
    ).toEqual([
      [true, false],
      [true, false],
    ]);
    expect(isOrdinary(fits[0]!, [{ index: 0, delta: 9 }])).toBe(true);
  });
});

describe('what a fit costs', () => {
  const course: Course = { ...ordinaryCourses(GROUPS)[1]!, coefficients: 3 };
  const fit: CourseFit = { ...fitCourse(course, Y), free: 7 };

  test('n ln(squares/ν + floor) + 2 for each coefficient; one that is lost costs both', () => {
    near(costOf(fit, 0.07, 0.01), 10 * Math.log(0.07 / 7 + 0.01) + 6, 1e-12);
    near(costOf(fit, 0.06, 0.01, 1), 10 * Math.log(0.06 / 6 + 0.01) + 8, 1e-12);
    near(
      courseCost(20, { squares: 0.3, free: 15, coefficients: 5 }, 0.001),
      20 * Math.log(0.021) + 10,
      1e-12,
    );
  });

  test('and the other way round, the squares at which it costs so much', () => {
    for (const most of [-40, -10, 5]) {
      const squares = squaresFor(fit, most, 1e-4);
      near(costOf(fit, squares, 1e-4), most, 1e-6);
      expect(costOf(fit, squares, 1e-4)).toBeGreaterThanOrEqual(most);
    }
  });
});

describe('a second hop beside the one at the fourth run', () => {
  test('leaves what least squares on both hops leave, one entry for each ordinary place', () => {
    const found = secondHops(GROUPS, 4, Y).map(({ squares }) => squares);
    // The last first; places 3 to 5 are too near, all heights of this scatter are ordinary.
    const expected = [8, 7, 6, 2].map((place) => squaresOf([...LEVELS, hop(4), hop(place)]));
    expect(found).toHaveLength(4);
    found.forEach((squares, i) => {
      near(squares, expected[i]!, 1e-12);
    });
    // Two levels, two hops: 10 − 4 degrees of freedom; both places were chosen from a list.
    expect(secondHops(GROUPS, 4, Y)[0]).toMatchObject({ free: 6, coefficients: 5 });
  });

  test('one of more than 30 % in ln is none', () => {
    const high = (height: number) => Y.map((y, i) => y + (i >= 8 ? height : 0));
    expect(secondHops(GROUPS, 4, high(0.9)).length).toBeLessThan(
      secondHops(GROUPS, 4, high(0.2)).length,
    );
    expect(secondHops(GROUPS, 4, high(-0.9)).length).toBeLessThan(
      secondHops(GROUPS, 4, high(-0.2)).length,
    );
  });

  test('none where fewer than three degrees of freedom would be left', () => {
    const found = (groups: readonly number[]) =>
      secondHops(
        groups,
        2,
        groups.map((_, i) => 1 + 0.01 * (i % 3)),
      ).length > 0;
    // Levels and two hops: 6 − 3, 6 − 4, 7 − 4
    expect(
      [
        [0, 0, 0, 0, 0, 0],
        [0, 1, 1, 0, 0, 1],
        [0, 1, 1, 0, 0, 1, 1],
      ].map(found),
    ).toEqual([true, false, true]);
  });
});
