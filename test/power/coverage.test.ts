/**
 * Simulated studies with a known truth. `METERPAIR_STUDIES=1000 npx vitest run
 * test/power/coverage.test.ts` takes more of them and prints the table of docs/measured.md.
 */
import { describe, expect, test } from 'vitest';
import { highestFactorAt } from '../../src/power/highestFactorAt.js';
import { levelsOf } from '../../src/power/levelsOf.js';
import { seededRandom } from '../../src/statistics/random.js';
import { CERTIFICATE, drawStudy, evenly, fare, type Scene, WHOLE_EVERY } from './bench.js';
import { HELD, OTHERS, perDecade } from './scenes.js';
import { bothWays } from './support.js';

const asked = Number(process.env.METERPAIR_STUDIES ?? 0);
const STUDIES = asked > 0 ? asked : 100;
/** For the scenes beside: so that the file takes seconds. */
const FEWER = asked > 0 ? asked : 40;
const SEED = 20;

/** So many standard errors below what is claimed; readings of one study share its calibration, so studies count. */
const least = (claimed: number, studies: number, errors: number) =>
  claimed - errors * Math.sqrt((claimed * (1 - claimed)) / studies);

const percent = (x: number, digits = 1) => (100 * x).toFixed(digits);

function fareAndPrint(scene: Scene, studies: number) {
  const found = fare(scene, studies, seededRandom(SEED));
  if (asked > 0) {
    const pair = ({ inside, half }: { inside: number; half: number }) =>
      `${percent(inside)} (${percent(half)})`;
    const worst = Math.min(...found.levels.map((level) => level.inside));
    console.log(
      `| ${scene.name} | ${percent(found.width, 2)} | ${percent(worst)} | ${percent(found.between.inside)} | ${[found.whole, found.half, found.twice].map(pair).join(' | ')} | ${percent(found.differ, 0)}, ${percent(found.offset, 0)} |`,
    );
  }
  return found;
}

describe('later readings at the levels and between them', () => {
  test.each(HELD)('$name: covered as claimed, half-width at most $widest %', (scene) => {
    const found = fareAndPrint(scene, STUDIES);
    for (const level of found.levels)
      expect(level.inside).toBeGreaterThanOrEqual(least(0.94, STUDIES, 2));
    expect(found.between.inside).toBeGreaterThanOrEqual(least(0.94, STUDIES, 2));
    expect(found.whole.inside).toBeGreaterThanOrEqual(least(0.94, STUDIES / WHOLE_EVERY, 2));
    expect(100 * found.width).toBeLessThanOrEqual(scene.widest);
  });

  test.each(OTHERS)('$name: covered in at least $least of 100', (scene) => {
    const found = fareAndPrint(scene, FEWER);
    // Three: so many places are looked at that two would be passed by chance.
    for (const level of found.levels) {
      expect(level.inside).toBeGreaterThanOrEqual(least(scene.least / 100, FEWER, 3));
    }
    expect(found.between.inside).toBeGreaterThanOrEqual(least(scene.least / 100, FEWER, 3));
  });
});

describe('what the parts of the rule are worth', () => {
  const scene = (name: string) => [...HELD, ...OTHERS].find((one) => one.name === name)!;
  const width = (one: Scene, change?: Parameters<typeof fare>[3]) =>
    100 * fare(one, FEWER, seededRandom(SEED), change).width;

  test('levels that agree: not drawn together the interval is wider than wanted', () => {
    const one = scene('constant, 3 levels');
    const apart = width(one, (curve) => ({
      ...curve,
      levels: curve.levels.map((level) => ({ ...level, ...level.own })),
    }));
    expect(apart).toBeGreaterThan(3.6);
    expect(width(one)).toBeLessThan(3.45);
  });

  test('an offset, 5 to 500 mW: straight between the levels costs 1.5 % of width and more', () => {
    const one = scene('1.5 mW, 5 to 500 mW, 3 levels');
    const straight = width(one, (curve) => ({ ...curve, offset_mW: null }));
    expect(straight).toBeGreaterThan(5);
    expect(width(one)).toBeLessThan(3.75);
  });
});

describe('the most that a source can emit', () => {
  const LIMIT = 500;
  const cases = [0.05, -0.05, 0].flatMap((change) =>
    [1, 2].flatMap((seriesPerLevel) =>
      [undefined, { sd: 0.005, dof: 1e6 }].map((stated) => ({ change, seriesPerLevel, stated })),
    ),
  );
  test.each(cases)(
    '501 mW, change a decade $change, series a level $seriesPerLevel, placement $stated: below 500 mW in at most 2.5 %',
    ({ change, seriesPerLevel, stated }) => {
      const scene: Scene = {
        name: 'hazard',
        powers: evenly(10, 501 / 1.03, 5),
        response: perDecade(change),
        seriesPerLevel,
        ...(stated === undefined ? {} : { stated }),
      };
      const random = seededRandom(SEED);
      const studies = asked > 0 ? asked : 240;
      let below = 0;
      let bounds = 0;
      for (let i = 0; i < studies; i++) {
        const study = drawStudy(scene, random);
        // Set a little off: scaled so that the highest power is 501 mW in each study.
        const scale = 501 / study.powers[4]!;
        const series = study.series.map((one) => ({
          ...one,
          candidateMean_mW: scale * one.candidateMean_mW,
          candidateRange_mW: [
            scale * one.candidateRange_mW[0],
            scale * one.candidateRange_mW[1],
          ] as const,
        }));
        const curve = levelsOf(series, study.placement);
        const upper = Math.max(
          ...series.map(({ candidateMean_mW: shown }) => {
            const highest = highestFactorAt(bothWays(curve), shown, {
              shared: { standardUncertainty: CERTIFICATE, dof: 1e6 },
            });
            return highest === null ? Number.POSITIVE_INFINITY : shown * Math.exp(highest);
          }),
        );
        if (upper < LIMIT) below++;
        bounds += upper / studies;
      }
      if (asked > 0) {
        console.log(
          `| ${change} | ${seriesPerLevel} | ${stated === undefined ? 'default' : 'stated'} | ${percent(below / studies, 2)} | ${bounds.toFixed(1)} |`,
        );
      }
      expect(below / studies).toBeLessThanOrEqual(0.025);
      // A bound that says nothing would pass the line above.
      expect(bounds).toBeLessThan(1.06 * 501);
    },
  );
});
