import { describe, expect, test } from 'vitest';
import { combineSeries } from '../../src/series/combineSeries.js';
import type { FactorLevel } from '../../src/vocabulary.js';
import { type Answer, oneLevel } from '../../src/wavelengths/wavelengthLevels.js';
import { verdictOf } from '../../src/wavelengths/wavelengthVerdict.js';
import { chapterOf } from '../analysed.js';
import { steady, studyOf } from '../seriesStudy.js';

const { members, input } = chapterOf(studyOf([{ id: 'a', nm: 638, laps: steady(110, 100) }]));
const spread = { sd: 0.01, dof: 8, note: '' };
const made = oneLevel(638, members, combineSeries([members[0].estimate], spread), input);

/** Levels with their K and the half-width of ln K; the answer reaches over all of them. */
function answer(...levels: (readonly [K: number, half: number, series?: number])[]): Answer {
  const list = levels.map(
    ([K, half, series = 1], i): FactorLevel => ({
      ...made.levels[0],
      candidate_mW: [10 ** (i + 1), 2 * 10 ** (i + 1)],
      factor: K,
      low: K * Math.exp(-half),
      high: K * Math.exp(half),
      series: Array.from({ length: series }, (_, j) => `s${j}`),
    }),
  );
  return {
    ...made,
    levels: list,
    low: Math.log(Math.min(...list.map(({ low }) => low))),
    high: Math.log(Math.max(...list.map(({ high }) => high))),
    leastKnown: { ...made.leastKnown, half: Math.max(0, ...levels.map(([, half]) => half)) },
    contradiction: null,
  };
}
const deciding = {
  tolerance: 0.05,
  oneReading: () => 0,
  onAnotherDay: 0.03,
  placementStated: true,
};

describe('one level', () => {
  test('is judged for a single reading: K may serve as it is, and a reading may not', () => {
    // ln K = ± 0.01; a reading reaches ± 0.01 · 0.03/0.01 = 0.03, within ln 1/(1 ± 0.05); at 0.06 beyond
    const one = answer([1, 0.01]);
    expect(verdictOf(one, { ...deciding, oneReading: () => 0.03 }).verdict).toBe(
      'within-tolerance',
    );
    expect(verdictOf(one, { ...deciding, oneReading: () => 0.06 }).verdict).toBe('not-shown');
  });

  test('is never judged for less than its own interval', () => {
    expect(
      verdictOf(answer([0.99, 0.0487]), { ...deciding, oneReading: () => 0.001 }).verdict,
    ).toBe('not-shown');
  });

  test('says what a corrected reading is known to, and what to do beyond the tolerance', () => {
    const one = answer([1.2, 0.01]);
    const { verdict, why } = verdictOf(one, { ...deciding, onAnotherDay: 0.05 });
    expect(verdict).toBe('correct-it');
    expect(why).toContain('is known to ± 5 %, its own scatter and display step aside.');
    expect(verdictOf(one, { ...deciding, onAnotherDay: 0.051 }).why).toContain(
      'more than the tolerance, so put the head up several times',
    );
  });

  test('says nothing of corrected readings where nobody corrects', () => {
    const words = 'corrected on another day';
    expect(verdictOf(answer([1.2, 0.01]), deciding).why).toContain(words);
    expect(verdictOf(answer([1, 0.01]), deciding).why).not.toContain(words);
    expect(verdictOf(answer([1.2, 0.2]), deciding).why).not.toContain(words);
  });

  test('of series that contradict each other serves nobody', () => {
    const torn = { ...answer([1.2, 0.01]), contradiction: 0.03 };
    expect(verdictOf(torn, deciding).verdict).toBe('inconclusive');
  });
});

describe('several levels', () => {
  test('the worst decides, and its power is named', () => {
    const found = verdictOf(answer([1.2, 0.01], [1.3, 0.1], [1.2, 0.01]), deciding);
    expect(found.verdict).toBe('inconclusive');
    expect(found.why).toMatch(
      /^Where the candidate shows 100 to 200 mW: K is 1\.30 \(1\.18 to 1\.44\), /,
    );
    expect(found.why).toContain('The other levels stand in the table');
    expect(verdictOf(answer([1, 0.001], [1.2, 0.01]), deciding).verdict).toBe('correct-it');
    expect(verdictOf(answer([1, 0.045], [1.2, 0.01]), deciding).verdict).toBe('correct-it');
  });

  test.each([
    // Tolerance 5 %: ln 0.96 ± 0.045 reaches beyond it and holds 1, 1.2 ± 1 % does not hold 1, ± 10 % serves nobody
    [['within-tolerance', 'not-shown'], 'not-shown'],
    [['not-shown', 'correct-it'], 'correct-it'],
    [['correct-it', 'inconclusive'], 'inconclusive'],
    [['within-tolerance', 'inconclusive'], 'inconclusive'],
    [['within-tolerance', 'within-tolerance'], 'within-tolerance'],
  ] as const)('%j: %s', (kinds, worst) => {
    const as = {
      'within-tolerance': [1, 0.001],
      'not-shown': [0.96, 0.045],
      'correct-it': [1.2, 0.01],
      inconclusive: [1.3, 0.1],
    } as const;
    for (const kind of kinds) expect(verdictOf(answer(as[kind]), deciding).verdict).toBe(kind);
    const [one, other] = kinds;
    expect(verdictOf(answer(as[one], as[other]), deciding).verdict).toBe(worst);
    expect(verdictOf(answer(as[other], as[one]), deciding).verdict).toBe(worst);
  });

  test('are judged for a reading that reaches as much further at each as where K is known least', () => {
    // A reading ± 0.025, 2.5 times as far as K itself: ± 0.025 at each level about ∓ 0.01 is within
    // ln 1.05 = 0.0488 and ln 0.95 = −0.0513, ± 0.0425 is not
    const two = answer([Math.exp(-0.01), 0.01], [Math.exp(0.01), 0.01]);
    expect(verdictOf(two, { ...deciding, oneReading: () => 0.025 }).verdict).toBe(
      'within-tolerance',
    );
    expect(verdictOf(two, { ...deciding, oneReading: () => 0.0425 }).verdict).toBe('not-shown');
  });

  test('all of one verdict are all named', () => {
    const found = verdictOf(answer([1.2, 0.01], [1.3, 0.01]), deciding);
    // Each with its own K
    expect(found.why).toMatch(
      /^Where the candidate shows 10 to 20 mW: .* Multiplied by 1\.200 .* 100 to 200 mW: .* Multiplied by 1\.300 /,
    );
    expect(found.why).not.toContain('other levels');
  });

  test('none is inconclusive', () => {
    expect(verdictOf({ ...made, levels: [] }, deciding)).toEqual({
      verdict: 'inconclusive',
      why: 'There is no level.',
    });
  });
});

describe('what re-seating the heads does', () => {
  const words = (series: number, placementStated = false) =>
    verdictOf(
      { ...answer([1.2, 0.01, series]), next: { ...spread, sd: 0.012 } },
      { ...deciding, placementStated },
    ).why;

  test('cannot be seen in one series, hardly in two, and is said with the number reckoned with', () => {
    expect(words(1)).toContain(
      'cannot be seen in one series; a standard deviation of 1.2 % is assumed',
    );
    expect(words(2)).toMatch(/Two series show only roughly .* 1\.2 % is reckoned with/);
  });

  test('is no matter for three series, or where it is stated', () => {
    for (const why of [words(3), words(1, true), words(2, true)]) {
      expect(why).not.toContain('putting the heads up');
    }
  });

  test('is seen as soon as one of the levels has three', () => {
    expect(
      verdictOf(answer([1.2, 0.01, 1], [1.2, 0.01, 3]), { ...deciding, placementStated: false })
        .why,
    ).not.toContain('putting the heads up');
  });
});
