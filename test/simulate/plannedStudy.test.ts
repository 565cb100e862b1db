import { describe, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import type { ComparisonWishes } from '../../src/plan/comparisonWishes.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { plannedStudy } from '../../src/simulate/plannedStudy.js';
import { seededRandom } from '../../src/statistics/random.js';
import { standardDeviation } from '../../src/statistics/summary.js';
import { near } from '../near.js';

const QUIET: ComparisonWishes = {
  wanted: 0.05,
  confidence: 0.95,
  noise: { reference: 0, candidate: 0 },
  placement: 0,
  display: { level_mW: 50, step_mW: { reference: 0.001, candidate: 0.001 } },
};
const made = (changes: Partial<ComparisonWishes>, later: number, seed = 5) =>
  plannedStudy(
    {
      wishes: { ...QUIET, ...changes },
      design: { series: 1, laps: 8 },
      study: { protocol: { order: 'ABBA-BAAB' } },
      later,
    },
    seededRandom(seed),
  );
/** ln of power over reading. */
const logs = ({ later }: ReturnType<typeof made>) =>
  later.map(({ power_mW, reading_mW }) => Math.log(power_mW / reading_mW));

describe('a bench without scatter', () => {
  test('has one factor, of study and later readings, within 5 %, at the wished power within 2 %', () => {
    const factors = Array.from({ length: 20 }, (_, seed) => {
      const one = made({}, 2, seed);
      const [first = 0, second = 0] = logs(one);
      near(first, second, 1e-4);
      near(one.later[0]!.power_mW / 50, 1, 0.02);
      near(first, 0, 0.052);
      return first;
    });
    // Even from 0.95 to 1.05: 0.1/√12
    near(standardDeviation(factors), 0.1 / Math.sqrt(12), 0.01);
    const study = made({}, 1);
    const { wavelengths } = analyse(
      parseStudy(JSON.parse(study.files['study.json']!), { runs: study.files['runs.csv']! }),
    );
    near(Math.log(wavelengths[0]!.factor!), logs(study)[0]!, 2e-4);
  });
});

test.each<readonly [string, Partial<ComparisonWishes>, number]>([
  ['the candidate', { noise: { reference: 0, candidate: 0.02 } }, 0.02],
  ['the source', { source_noise: 0.02 }, 0.02],
  ['a new placement', { placement: 0.02 }, 0.02],
  [
    'all three',
    { noise: { reference: 0.1, candidate: 0.02 }, source_noise: 0.01, placement: 0.02 },
    0.03,
  ],
])('later readings scatter by %s', (_, changes, sd) => {
  // Known to 1/√(2 · 800) = 2.5 %, times four
  near(standardDeviation(logs(made(changes, 800))) / sd, 1, 0.1);
});
