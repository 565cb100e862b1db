import { expect, test } from 'vitest';
import { readingsToFactors } from '../../src/wavelengths/readingsToFactors.js';
import { suspectIn } from '../analysed.js';
import { jointStudy } from '../joints/bench.js';
import { steady, studyOf } from '../seriesStudy.js';

test('steps are those of each display: stated, or seen in its readings', () => {
  const study = studyOf(
    [
      {
        id: 'a',
        nm: 638,
        laps: [
          [110.5, 100],
          [111, 101],
        ],
      },
    ],
    {
      reference: { resolution_mW: null },
      candidate: { resolution_mW: 0.25 },
    },
  );
  const { steps, displays } = readingsToFactors(study, []);
  expect(steps).toEqual({ reference: 0.1, candidate: 0.25 });
  expect([displays.reference.stated, displays.candidate.stated]).toEqual([false, true]);
});

test('a suspect concerns its own series alone', () => {
  const study = studyOf([
    { id: 'a', nm: 638, laps: steady(110, 100) },
    { id: 'b', nm: 450, laps: steady(110, 100) },
  ]);
  const { series, wavelengths } = readingsToFactors(study, [suspectIn('b')]);
  expect(series.map(({ result }) => [result.id, result.verdict])).toEqual([
    ['a', 'usable'],
    ['b', 'inconclusive'],
  ]);
  expect(wavelengths.results.map(({ wavelength_nm, verdict }) => [wavelength_nm, verdict])).toEqual(
    [
      [450, 'inconclusive'],
      [638, 'correct-it'],
    ],
  );
});

test('a series of one meter under two settings is no comparison', () => {
  const study = jointStudy({
    candidate: { wavelength_setting: true },
    series: [
      { id: 'a', cells: () => ({ setting_nm: 520 }) },
      {
        id: 'setting',
        only: 'candidate',
        gain: (_, run) => (run % 2 === 0 ? 1.2 : 1),
        cells: (_, run) => ({ setting_nm: run % 2 === 0 ? 640 : 520 }),
      },
    ],
  });
  const { series, readings } = readingsToFactors(study, []);
  expect(series.map(({ result }) => result.id)).toEqual(['a']);
  expect(readings.settings).toHaveLength(1);
  // Its ratio has the confidence of the study, and more of it is a wider interval.
  const [more] = readingsToFactors({ ...study, confidence: 0.99 }, []).readings.settings;
  const [ratio] = readings.settings;
  expect(more.ratio).toBe(ratio.ratio);
  expect(more.high).toBeGreaterThan(ratio.high ?? Number.NaN);
});
