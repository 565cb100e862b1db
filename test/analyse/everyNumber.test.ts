/** No number that is not finite, and no `null` without words, in any result. */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { MeterpairError } from '../../src/error.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { readStudy } from '../../src/record/readStudy.js';
import { type Made, SETTINGS, steadyLaps, studyWith } from './studies.js';
import { faultsIn } from './walk.js';

const folders = ['../../data-demo/', '../published/studies/'].flatMap((place) => {
  const root = fileURLToPath(new URL(place, import.meta.url));
  return readdirSync(root, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => root + entry.name);
});

test('the walker finds what it looks for', () => {
  const result = analyse(studyWith([{ id: 'a', laps: steadyLaps(6) }]));
  const [series] = result.series;
  expect(faultsIn(result)).toEqual([]);
  const broken = {
    ...result,
    warnings: [],
    series: [{ ...series!, why: '', factor: { ...series!.factor, low: null, high: Number.NaN } }],
  };
  expect(faultsIn(broken)).toContain('series.0.factor.low is null without a word');
  expect(faultsIn(broken)).toContain('series.0.factor.high is NaN');
});

test.each(folders.map((folder) => [folder.split('/').pop(), folder]))('%s', async (_, folder) => {
  expect(faultsIn(analyse(await readStudy(folder!)))).toEqual([]);
});

const positive = fc.integer({ min: 1, max: 100_000 }).map((x) => x / 1000);
const lap = fc.record({ reference: positive, candidate: positive });
const made = (id: string, source: string) =>
  fc
    .record({
      laps: fc.array(lap, { minLength: 1, maxLength: 9 }),
      scale: fc.constantFrom(1e-3, 1e-2, 1, 1e3, 1e5),
      first: fc.constantFrom('R', 'C', 'RC', 'RCCR'),
      equal: fc.boolean(),
      out: fc.array(fc.integer({ min: 1, max: 18 }), { maxLength: 6 }),
    })
    .map(({ laps, scale, first, equal, out }): Made => {
      const used = equal ? laps.map(() => laps[0]!) : laps;
      return {
        id,
        source,
        first,
        laps: used.map((one) => ({
          reference: one.reference * scale,
          candidate: one.candidate * scale,
        })),
        exclude: Object.fromEntries(out.map((run) => [run, 'a reason'])),
      };
    });

test('random studies, however wild: a result, or the package’s own error', () => {
  fc.assert(
    fc.property(
      fc.tuple(made('a', 'green'), made('b', 'green'), made('c', 'red')),
      fc.integer({ min: 1, max: 3 }),
      fc.constantFrom(0, 1, 3, 50),
      fc.boolean(),
      fc.boolean(),
      fc.constantFrom(null, 1e-4, 1, 50),
      fc.constantFrom(null, 3),
      (series, count, discard, outliers, cold, step, certificate) => {
        const study = studyWith(series.slice(0, count), {
          ...SETTINGS,
          reference: {
            name: 'bench meter',
            ...(step === null ? {} : { resolution_mW: step }),
            ...(certificate === null ? {} : { expanded_uncertainty_percent: certificate }),
          },
          candidate: { name: 'drawer meter', ...(step === null ? {} : { resolution_mW: step }) },
          protocol: {
            discard_first_laps: discard,
            exclude_outliers: outliers,
            exclude_cold_starts: cold,
          },
        });
        expect(faultsIn(analyse(study))).toEqual([]);
      },
    ),
    { seed: 61, numRuns: 120 },
  );
});

describe('runs without partners', () => {
  test.each([
    ['one meter twice in a row', 'RRCCRRCC'],
    ['one meter alone', 'RRRRRR'],
    ['the other alone', 'CCCC'],
    ['one run', 'R'],
    ['never next to each other until the end', 'RRRRRCCCCC'],
    ['a candidate run missing', 'RCRCRRCRC'],
  ])('%s', (_, meters) => {
    const rows = [...meters].map((letter, i) =>
      [letter === 'R' ? 'reference' : 'candidate', 50 + ((i * 7) % 5) / 10].join(','),
    );
    const files = { runs: `meter,reading_mW\n${rows.join('\n')}\n` };
    const read = () => {
      try {
        return parseStudy({ ...SETTINGS, sources: [SETTINGS.sources[0]] }, files);
      } catch (error) {
        expect(error).toBeInstanceOf(MeterpairError);
        return null;
      }
    };
    const study = read();
    expect(study === null ? [] : faultsIn(analyse(study))).toEqual([]);
  });
});
