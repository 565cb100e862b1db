/** What must hold for every study, whatever the readings. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { analyseSeries } from '../../src/series/analyseSeries.js';
import type { Interval, Result, SeriesResult } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { type Lap, type Made, SETTINGS, studyWith } from './studies.js';

/** Displays fine enough to leave no rounding; cold starts off, so that every run is used. */
const FINE = {
  ...SETTINGS,
  reference: { ...SETTINGS.reference, resolution_mW: 1e-9 },
  candidate: { ...SETTINGS.candidate, resolution_mW: 1e-9 },
  protocol: { exclude_cold_starts: false },
};

const percent = (most: number) =>
  fc.integer({ min: -most * 1000, max: most * 1000 }).map((x) => x / 1e5);
/** Laps about 50 mW with up to 2 % of scatter. */
const laps = (least = 4, most = 10) =>
  fc
    .array(fc.tuple(percent(2), percent(2)), { minLength: least, maxLength: most })
    .map((list): Lap[] =>
      list.map(([r, c]) => ({ reference: 50 * (1 + r), candidate: 45 * (1 + c) })),
    );
const RUNS = { numRuns: 40 };

/** One series alone. */
function seriesOf(list: readonly Lap[], more: Partial<Made> = {}): SeriesResult {
  const study = studyWith([{ id: 'a', laps: list, ...more }], FINE);
  return analyseSeries(study.series[0]!, study, { reference: 1e-9, candidate: 1e-9 }).result;
}
const swap = (list: readonly Lap[]) =>
  list.map((lap) => ({ reference: lap.candidate, candidate: lap.reference }));
const times = (list: readonly Lap[], by: (reading: number, run: number) => number) =>
  list.map((lap, i) => ({
    reference: by(lap.reference, 2 * i),
    candidate: by(lap.candidate, 2 * i + 1),
  }));

function sameFactor(found: SeriesResult, expected: SeriesResult, tolerance = 1e-9): void {
  near(found.factor.value! / expected.factor.value!, 1, tolerance);
  near(found.factor.low! / expected.factor.low!, 1, tolerance);
  near(found.factor.high! / expected.factor.high!, 1, tolerance);
}

test('swapping the meters inverts K and turns its interval round', () => {
  fc.assert(
    fc.property(laps(), (list) => {
      const one = seriesOf(list).factor;
      const other = seriesOf(swap(list), { first: 'C' }).factor;
      near(one.value! * other.value!, 1, 1e-9);
      near(one.low! * other.high!, 1, 1e-9);
      near(one.high! * other.low!, 1, 1e-9);
      near(one.dof! / other.dof!, 1, 1e-6);
    }),
    { seed: 71, ...RUNS },
  );
});

test('a change of scale of both meters changes nothing relative', () => {
  fc.assert(
    fc.property(laps(), fc.constantFrom(1e-3, 0.1, 7, 1000), (list, scale) => {
      const one = seriesOf(list);
      const other = seriesOf(times(list, (x) => x * scale));
      sameFactor(other, one, 1e-7);
      near(other.difference_percent.mean! - one.difference_percent.mean!, 0, 1e-7);
      near(other.limits_percent.high! - one.limits_percent.high!, 0, 1e-7);
      near(other.difference_mW.mean! / scale / one.difference_mW.mean!, 1, 1e-7);
      expect(other.drift.degree).toBe(one.drift.degree);
    }),
    { seed: 72, ...RUNS },
  );
});

test('a change of scale of one meter changes K by exactly that', () => {
  fc.assert(
    fc.property(laps(), fc.integer({ min: 2, max: 30 }), (list, tenth) => {
      const scale = tenth / 10;
      const one = seriesOf(list);
      const other = seriesOf(list.map((lap) => ({ ...lap, candidate: lap.candidate * scale })));
      near((other.factor.value! * scale) / one.factor.value!, 1, 1e-7);
      near(other.factor.high! / other.factor.low! / (one.factor.high! / one.factor.low!), 1, 1e-7);
    }),
    { seed: 73, ...RUNS },
  );
});

test('the origin and the unit of time change nothing', () => {
  fc.assert(
    fc.property(
      laps(),
      fc.integer({ min: 1, max: 10_000 }),
      fc.integer({ min: 1, max: 9 }),
      (list, shift, unit) => {
        const at = list.flatMap((_, i) => [90 * i + (i % 3), 90 * i + 40]);
        sameFactor(
          seriesOf(list, { times: at.map((t) => unit * t + shift) }),
          seriesOf(list, { times: at }),
        );
      },
    ),
    { seed: 74, ...RUNS },
  );
});

test('a straight drift of the source moves neither K nor its interval', () => {
  fc.assert(
    fc.property(
      laps(2),
      percent(3),
      fc.constantFrom('R', 'C', 'RC', 'RCCR'),
      (list, slope, first) => {
        // The readings of a lap stand in the order of its runs: where the candidate goes first, its
        // run is the earlier one.
        const place = (i: number, meter: 'reference' | 'candidate') => {
          const referenceFirst = first[i % first.length] === 'R';
          return 2 * i + ((meter === 'reference') === referenceFirst ? 0 : 1);
        };
        const drifting = list.map((lap, i) => ({
          reference: lap.reference * Math.exp(slope * place(i, 'reference')),
          candidate: lap.candidate * Math.exp(slope * place(i, 'candidate')),
        }));
        const one = seriesOf(list, { first });
        const other = seriesOf(drifting, { first });
        expect(other.drift.degree).toBe(one.drift.degree);
        sameFactor(other, one, 1e-7);
      },
    ),
    { seed: 75, ...RUNS },
  );
});

const inside = (value: number, [low, high]: Interval) => value >= low && value <= high;

test('intervals hold what they are intervals of', () => {
  fc.assert(
    fc.property(laps(2), (list) => {
      const found = seriesOf(list);
      const { factor, difference_mW: d, limits_percent: limits, difference_percent: p } = found;
      expect(inside(factor.value!, [factor.low!, factor.high!])).toBe(true);
      expect(inside(d.mean!, [d.low!, d.high!])).toBe(true);
      expect(inside(p.mean!, [limits.low!, limits.high!])).toBe(true);
      // The exact interval of a limit holds the limit (for confidence of 95 %).
      expect(inside(limits.low!, limits.low_interval as Interval)).toBe(true);
      expect(inside(limits.high!, limits.high_interval as Interval)).toBe(true);
    }),
    { seed: 76, ...RUNS },
  );
});

test('more confidence gives wider intervals, of the series and of the wavelength', () => {
  fc.assert(
    fc.property(laps(), (list) => {
      const at = (confidence: number) => {
        const { series, wavelengths } = analyse(
          studyWith([{ id: 'a', laps: list }], { ...FINE, confidence }),
        );
        return [series[0]!.factor, wavelengths[0]!].map((one) => one.high! / one.low!);
      };
      const [low, middle, high] = [at(0.8), at(0.95), at(0.99)];
      for (const k of [0, 1]) {
        expect(middle[k]).toBeGreaterThan(low[k]!);
        expect(high[k]).toBeGreaterThan(middle[k]!);
      }
    }),
    { seed: 77, numRuns: 6 },
  );
});

test('the wavelength is never surer than its best series, calibration of the reference included', () => {
  fc.assert(
    fc.property(laps(5), (list) => {
      const { series, wavelengths } = analyse(studyWith([{ id: 'a', laps: list }], FINE));
      expect(wavelengths[0]!.relative_standard_uncertainty).toBeGreaterThan(
        Math.hypot(series[0]!.factor.relative_standard_uncertainty!, 0.015),
      );
      const shares = wavelengths[0]!.budget.reduce((sum, line) => sum + line.share, 0);
      near(shares, 1, 1e-9);
    }),
    { seed: 78, numRuns: 8 },
  );
});

test('the order of the series in the file changes neither their results nor the wavelengths', () => {
  fc.assert(
    fc.property(laps(), laps(), laps(), (a, b, c) => {
      const made: Made[] = [
        { id: 'a', laps: a },
        { id: 'b', laps: b },
        { id: 'c', laps: c, source: 'red' },
      ];
      const one = analyse(studyWith(made, FINE));
      const other = analyse(studyWith([...made].reverse(), FINE));
      const byId = (result: Result) => [...result.series].sort((x, y) => (x.id < y.id ? -1 : 1));
      expect(byId(other)).toEqual(byId(one));
      expect(other.wavelengths.map((w) => w.wavelength_nm)).toEqual([520, 650]);
      one.wavelengths.forEach((w, i) => {
        near(other.wavelengths[i]!.factor! / w.factor!, 1, 1e-12);
        near(other.wavelengths[i]!.high! / w.high!, 1, 1e-9);
        expect(other.wavelengths[i]!.verdict).toBe(w.verdict);
      });
      near(other.common_factor.p, one.common_factor.p!, 1e-9);
    }),
    { seed: 79, numRuns: 6 },
  );
});

test('the same study gives the same result', () => {
  const study = studyWith([
    {
      id: 'a',
      laps: times(
        Array.from({ length: 6 }, (_, i) => ({ reference: 50 + i / 7, candidate: 45 - i / 9 })),
        (x) => x,
      ),
    },
  ]);
  const one = analyse(study);
  expect(analyse(study)).toEqual(one);
});
