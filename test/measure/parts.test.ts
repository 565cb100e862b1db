/** The small parts of the state, by hand. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { alarms } from '../../src/measure/alarms.js';
import { firstSheet } from '../../src/measure/firstSheet.js';
import { plotPoints } from '../../src/measure/plotPoints.js';
import { modelSoFar, repeatabilitySentence } from '../../src/measure/repeatability.js';
import { orderOf } from '../../src/measure/seriesOrder.js';
import { sheetOf } from '../../src/measure/sheet.js';
import { inSeries, isClosed, rowsAround, rowsOf } from '../../src/measure/sheetRows.js';
import { TYPED_NUMBER } from '../../src/measure/words.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { MeterRole } from '../../src/vocabulary.js';
import { runsOf, seriesOf } from '../series/runs.js';
import { studyOf } from '../seriesStudy.js';
import { STUDY } from './evening.js';
import { stateOf } from './playing.js';

test('a label is held against the displays of its own source, in all its series', () => {
  const study = studyOf([
    { id: 'a', nm: 520, laps: [[80, 70]] },
    { id: 'b', nm: 638, laps: [[4, 3.5]] },
    { id: 'c', nm: 638, laps: [[6.5, 3.5]] },
  ]);
  const [green, red] = study.series;
  const sources = study.sources.map((one) => ({ ...one, label_max_mW: 7 }));
  expect(alarms({ ...study, sources }, red!)).toEqual([]);
  expect(alarms({ ...study, sources }, green!)).toEqual([
    expect.stringContaining('was seen at 80 mW, and its label says 7 mW'),
  ]);
  const less = study.sources.map((one) => ({ ...one, label_max_mW: 5 }));
  expect(alarms({ ...study, sources: less }, red!)).toHaveLength(1);
});

test('a rating is held against what its own meter displayed, zero included', () => {
  const study = studyOf([{ id: 'a', nm: 520, laps: [[80, 70]] }]);
  const at = (reference: number, candidate: number) =>
    alarms(
      {
        ...study,
        reference: { ...study.reference, rated_max_mW: reference },
        candidate: { ...study.candidate, rated_max_mW: candidate },
      },
      {
        ...study.series[0]!,
        runs: study.series[0]!.runs.map((run) => ({ ...run, zero_mW: 1 })),
      },
    ).map((one) => one.slice(0, 13));
  expect(at(81, 71)).toEqual([]);
  expect(at(80.5, 71)).toEqual(['The reference']);
  expect(at(81, 70.5)).toEqual(['The candidate']);
});

test('points of the plot are percent above the first reading of their meter that counts', () => {
  const readings = [50, 40, 55, 44, 60, 0];
  const runs = runsOf('RCRCRC', ({ place }) => readings[place]!).map((run) =>
    run.run === 1 ? { ...run, exclude: 'clipped beam' } : run,
  );
  const points = plotPoints(seriesOf(runs));
  expect(points.map(({ run, excluded }) => [run, excluded])).toEqual([
    [1, true],
    [2, false],
    [3, false],
    [4, false],
    [5, false],
  ]);
  const expected = [100 * (50 / 55 - 1), 0, 0, 10, 100 * (60 / 55 - 1)];
  points.forEach(({ percent }, i) => {
    expect(percent).toBeCloseTo(expected[i]!, 10);
  });
  // Where none counts, the first of all
  const out = plotPoints(seriesOf(runs.map((run) => ({ ...run, exclude: 'x' }))));
  expect(out.map(({ percent }) => Math.round(percent))).toEqual([0, 0, 10, 10, 20]);
});

describe('repeatability so far', () => {
  const runs = runsOf('RCCRRCCRRCCR', ({ meter, place }) =>
    meter === 'reference' ? 50 + (place % 3) / 10 : 45 + (place % 4) / 10,
  );

  test('is that of the runs that count', () => {
    const out = runs.map((run) => (run.run === 4 ? { ...run, exclude: 'knocked head' } : run));
    const dark = runs.map((run) => (run.run === 5 ? { ...run, reading_mW: 0 } : run));
    expect([runs, out, dark].map((list) => modelSoFar(seriesOf(list))?.fit.n)).toEqual([
      12, 11, 11,
    ]);
    expect(modelSoFar(seriesOf(runs.filter(({ meter }) => meter === 'reference')))).toBeNull();
  });

  test('is told from three degrees of freedom on', () => {
    expect(repeatabilitySentence(seriesOf(runs))).toMatch(/^One reading scatters by 0\.\d+ %/);
    expect(repeatabilitySentence(seriesOf(runs.slice(0, 4)))).toContain('not to be told');
  });
});

test('the order is the stated one, else the first that fits the rows, else the plain one', () => {
  const of = (meters: string, stated: Parameters<typeof orderOf>[1] = null) =>
    orderOf(
      [...meters].map((one): MeterRole => (one === 'R' ? 'reference' : 'candidate')),
      stated,
    );
  expect(of('RCCRCRRC')).toBe('ABBA-BAAB');
  expect(of('RCCRRCCR')).toBe('ABBA');
  expect(of('RCRCRC')).toBe('reference-first');
  expect(of('CRCRCR')).toBe('candidate-first');
  expect([of('RRCC'), of('')]).toEqual(['reference-first', 'reference-first']);
  expect(of('RCRC', 'ABBA')).toBe('ABBA');
});

describe('rows of the sheet', () => {
  const rows = (text: string) => rowsOf(sheetOf(text), []);

  test('have the unit of their own cell, or of the heading', () => {
    expect(
      rows('meter,reading,unit\nreference,1,W\ncandidate,2,\n').map(({ unit }) => unit),
    ).toEqual(['W', 'mW']);
    expect(rows('meter,reading_uW\nreference,1\n')[0]?.unit).toBe('µW');
    expect(rows('meter,reading_W\nreference,1\n')[0]?.unit).toBe('W');
  });

  test('belong to the series in which they stand', () => {
    const groups = inSeries(
      rows(
        'series,meter,reading_mW,note\na,reference,1,\na,candidate,2,series closed\nb,reference,3,series closed\nb,candidate,,\n',
      ),
    );
    expect(groups.map(({ series, rows: own }) => [series, own.length])).toEqual([
      ['a', 2],
      ['b', 2],
    ]);
    expect(rowsAround(groups, 4).map(({ row }) => row)).toEqual([4, 5]);
    expect(rowsAround(groups, 9)).toEqual([]);
    // Closed: every row measured and the word in one of them
    expect(groups.map(isClosed)).toEqual([true, false]);
  });
});

test('a number as it is typed', () => {
  const right = ['46.2', '46,2', '-0.1', '+5', '.5', ',5', '5.', '5,'];
  const wrong = ['', '.', 'x5', '5x', '1e3', '1 000', '1.2.3', '--5', '46.2 mW'];
  expect([...right, ...wrong].filter((text) => TYPED_NUMBER.test(text))).toEqual(right);
});

describe('what is said of the next run', () => {
  const cautions = (nm: number) => {
    const study = { ...STUDY, sources: [{ name: 'source', wavelength_nm: nm }] };
    const { step } = stateOf('source,meter,reading_mW\nsource,reference,\n', study);
    return step.do === 'run' ? (step.cautions[0] ?? '') : '';
  };

  test('light is visible from 400 to 700 nm', () => {
    expect([399.9, 400, 700, 700.1].map((nm) => cautions(nm).includes('invisible'))).toEqual([
      true,
      false,
      false,
      true,
    ]);
  });

  test('a run without a name of its series is called by its source', () => {
    const text = 'source,meter,reading_mW\ngreen bench diode,reference,\n';
    expect(stateOf(text).filmable.map(({ name }) => name)).toEqual([
      '"green bench diode", run 1, reference',
    ]);
  });
});

describe('a folder', () => {
  const folder = () => {
    const path = mkdtempSync(join(tmpdir(), 'meterpair-first-'));
    writeFileSync(join(path, 'study.json'), JSON.stringify(STUDY));
    return path;
  };

  test('without a runs.csv gets one, a series a source with the fewest laps', async () => {
    const { runs, note } = await firstSheet(folder());
    const filled = runs!.replace(/^(.*?,(?:reference|candidate)),,/gm, '$1,50,');
    const study = parseStudy(STUDY, { runs: filled });
    expect(study.series.map(({ source, runs: own }) => [source, own.length])).toEqual([
      ['green bench diode', 16],
      ['near-infrared module', 16],
    ]);
    expect(note).toContain('8 laps for each source in the order ABBA-BAAB');
  });

  test('with one keeps it', async () => {
    const path = folder();
    writeFileSync(join(path, 'runs.csv'), 'meter,reading_mW\n');
    expect(await firstSheet(path)).toEqual({ runs: null, note: '' });
  });

  test('without sources is told so', async () => {
    const path = folder();
    const { sources: _, ...bare } = STUDY;
    writeFileSync(join(path, 'study.json'), JSON.stringify(bare));
    await expect(firstSheet(path)).rejects.toMatchObject({ code: 'no-rows' });
  });
});
