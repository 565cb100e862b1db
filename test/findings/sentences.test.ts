import { describe, expect, test } from 'vitest';
import { answer } from '../../src/findings/answer.js';
import { doubts, nextStep, suspectTexts, unknownParts, untold } from '../../src/findings/doubts.js';
import { levelSentences, unitOfLevels } from '../../src/findings/levelSentences.js';
import { meansSentences } from '../../src/findings/meansSentences.js';
import { unbroken } from '../../src/findings/unbroken.js';
import {
  factorWarnings,
  otherWarnings,
  ranked,
  warningText,
  warningTexts,
} from '../../src/findings/warningRank.js';
import {
  commonWords,
  hazardClassWords,
  hazardZone,
  howToRead,
  isBeyondTolerance,
  isSettled,
  labelVerdict,
  labelWords,
  rangeWords,
  referenceOnly,
  withSign,
} from '../../src/findings/words.js';
import type {
  AgreementResult,
  HazardResult,
  Result,
  Study,
  WavelengthResult,
} from '../../src/vocabulary.js';
import { only } from './only.js';

const NONE = { low: null, high: null, low_interval: [null, null], high_interval: [null, null] };
const MEANS = {
  ratio_limits: { ratio: null, low: null, high: null, limits: NONE, why: 'No ratio.' },
  wilcoxon: {
    series: 1,
    p: null,
    estimate_percent: -2,
    low_percent: null,
    high_percent: null,
    achieved_confidence: null,
    why: 'Few.',
  },
  equivalence: {
    before: { low: null, high: null, why: 'Untested.' },
    after: { low: null, high: null, why: 'Untested, too.' },
  },
  proportional_bias: { slope: null, low: null, high: null, why: 'No line.' },
  against_level: { description: 'not-computable', levels: [], why: 'Too few.' },
  concordance: { value: null, low: null, high: null, why: 'None.' },
};
const means = (changed: object = {}) =>
  meansSentences(only<Result>({ agreement: { ...MEANS, ...changed } }));

describe('what the means say', () => {
  test('where nothing could be computed: seven reasons', () => {
    expect(means()).toEqual([
      'Ratio candidate ÷ reference: No ratio.',
      'By ranks alone: mean difference −2.0 %. Few.',
      'As read: Untested.',
      'Corrected: Untested, too.',
      'Does the ratio change with power: No line.',
      'Difference against level: Too few.',
      'Concordance correlation: None.',
    ]);
  });

  test.each([
    [{}, '0.98. W.'],
    [{ low: 0.96, high: 1 }, '0.980 (0.960 to 1.000). W.'],
    [
      { limits: { ...NONE, low: 0.9, high: 1.1 } },
      '0.98; limits of agreement for one more lap 0.90 to 1.10. W.',
    ],
    [
      { low: 0.96, high: 1, limits: { ...NONE, low: 0.9, high: 1.1 }, why: '' },
      '0.980 (0.960 to 1.000); limits of agreement for one more lap 0.90 to 1.10.',
    ],
  ])('the ratio with %j: %s', (changed, text) => {
    const ratio_limits = { ...MEANS.ratio_limits, ratio: 0.98, why: 'W.', ...changed };
    expect(means({ ratio_limits })[0]).toBe(`Ratio candidate ÷ reference: ${text}`);
  });

  test.each([
    [{ p: 0.02 }, '−2.0 %, p = 0.020. Few.'],
    [{ p: 0.0001 }, '−2.0 %, p < 0.001. Few.'],
    [{ low_percent: -3, high_percent: -1 }, '−2.0 % (−3.0 to −1.0 %). Few.'],
    [
      { low_percent: -3, high_percent: -1, achieved_confidence: 0.9609, why: '' },
      '−2.0 % (−3.0 to −1.0 % at 96.09 %).',
    ],
  ])('the ranks with %j: %s', (changed, text) => {
    expect(means({ wilcoxon: { ...MEANS.wilcoxon, ...changed } })[1]).toBe(
      `By ranks alone: mean difference ${text}`,
    );
  });

  test.each([
    ['equivalent', 'shown'],
    ['not-shown', 'not shown'],
  ])('%s: %s', (decision, word) => {
    const one = {
      decision,
      confidence: 0.9,
      low: 0.97,
      high: 1.01,
      margins: [0.95, 1.05],
      why: '',
    };
    const text = `the mean ratio is ${word} to lie within the tolerance, 0.95 to 1.05 (90 % interval 0.970 to 1.010).`;
    expect(means({ equivalence: { before: one, after: one } }).slice(2, 4)).toEqual([
      `As read: ${text}`,
      `Corrected: ${text}`,
    ]);
  });

  test('the slope and the concordance with what is known of them', () => {
    const line = { slope: -0.15, low: -0.4, high: 0.1, why: 'W.' };
    expect(means({ proportional_bias: line })[4]).toBe(
      'Does the ratio change with power: slope −0.15 (−0.40 to 0.10) of the logarithm of the ratio against that of the power. W.',
    );
    const at = (low: number | null) =>
      means({ concordance: { value: 0.9, low, high: 0.95, why: 'W.' } })[6];
    expect(at(null)).toBe('Concordance correlation: 0.90. W.');
    expect(at(0.85)).toBe('Concordance correlation: 0.900 (0.850 to 0.950). W.');
  });
});

describe('difference against level', () => {
  const level = (level_mW: number, low: number | null) => ({
    level_mW,
    bias: -1.25,
    low,
    high: low === null ? null : low + 4,
  });
  const said = (changed: object) =>
    levelSentences(
      only<AgreementResult>({
        limits_mW: { low: -1, high: 1 },
        against_level: {
          description: 'constant-percent',
          scale: 'percent',
          bias_change: 'not-shown',
          spread_change: 'not-shown',
          levels: [level(5, -3), level(50, -3), level(812, null)],
          why: 'W.',
          ...changed,
        },
      }),
    );

  test.each([
    ['not-shown', 'not-shown', 'no change with the power is shown.'],
    ['not-shown', 'not-computable', 'no change with the power is shown.'],
    ['shown', 'not-shown', 'bias changes with the power.'],
    ['not-shown', 'shown', 'spread changes with the power.'],
    ['shown', 'shown', 'bias and spread change with the power.'],
    [
      'confounded',
      'not-shown',
      'no change with the power is shown. A slope of bias is there, and may be one of colour.',
    ],
    [
      'shown',
      'confounded',
      'bias changes with the power. A slope of spread is there, and may be one of colour.',
    ],
    [
      'confounded',
      'confounded',
      'no change with the power is shown. A slope of bias and spread is there, and may be one of colour.',
    ],
  ])('bias %s, spread %s: %s', (bias_change, spread_change, text) => {
    expect(said({ bias_change, spread_change })).toEqual([
      `Difference against level, 5 to 812 mW: ${text} Constant limits in percent serve. W.`,
    ]);
  });

  test('limits in mW, and limits at each level', () => {
    expect(said({ description: 'constant-mW', scale: 'mW' })).toEqual([
      expect.stringContaining('Constant limits in mW serve (−1.0 to 1.0 mW for one more lap)'),
    ]);
    expect(said({ description: 'changes-with-level' })).toEqual([
      expect.stringContaining('take those of the level'),
      'At 5 mW: bias −1.2 %, limits −3.0 to 1.0 %; At 50 mW: bias −1.2 %, limits −3.0 to 1.0 %; At 812 mW: bias −1.25 %, no limits.',
    ]);
    expect(said({ description: 'changes-with-level', scale: 'mW' })[1]).toContain(
      'At 5 mW: bias −1.2 mW, limits −3.0 to 1.0 mW;',
    );
    expect(unitOfLevels(only({ scale: null }))).toBe('%');
  });
});

const SETTLED = {
  wavelength_nm: 520,
  series: ['a'],
  verdict: 'correct-it',
  factor: 1.25,
  relative_expanded_uncertainty: 0.04,
  corrected_reading_relative_U: 0.05,
  improvement: 'Repeat.',
  next_step: 'Settle.',
  why: 'W.',
  budget: [{}],
  not_in_budget: [],
};
const OPEN = {
  ...SETTLED,
  wavelength_nm: 640,
  series: ['b'],
  verdict: 'inconclusive',
  factor: null,
};
const resultOf = (wavelengths: readonly object[], changed: object = {}) =>
  only<Result>({ wavelengths, suspects: [], warnings: [], tolerance_percent: 5, ...changed });
const SUSPECT = { series: 'b', rows: [4, 5], message: 'Odd.', why: 'K moves.' };

describe('doubts', () => {
  test('in their order: entries, open wavelengths, reference, warnings, scatter, budget', () => {
    const wide = { ...SETTLED, corrected_reading_relative_U: 0.06, not_in_budget: ['settling'] };
    const result = resultOf([wide, OPEN], {
      suspects: [{ ...SUSPECT, series: 'c' }],
      warnings: [
        { code: 'other-code', message: 'Not here.' },
        { code: 'setting-wrong', message: 'Set wrong.', series: 'a' },
      ],
    });
    const study = only<Study>({ reference: { expanded_uncertainty_percent: null } });
    expect(doubts(result, study)).toEqual([
      'Look at this entry again. Odd. K moves.',
      '640 nm: this data cannot tell you a factor, because it is known only to ± 4.0 %.',
      expect.stringMatching(/^The reference states no uncertainty/),
      'a: Set wrong.',
      '520 nm (± 6.0 %): one corrected reading may be off by more than the tolerance. Put the head up several times and correct the mean.',
      'In no budget, so every U may be too small: settling (520 nm).',
    ]);
    expect(doubts(result)).toHaveLength(5);
    expect(doubts(resultOf([SETTLED]))).toEqual([]);
    expect(suspectTexts(resultOf([]))).toEqual([]);
  });

  test('an open wavelength says why: an entry, its width, or what blocks it', () => {
    const of = (one: object, which: 'all' | 'blocked', suspects: readonly object[] = []) =>
      untold(resultOf([one, SETTLED], { suspects }), which);
    const head = '640 nm: this data cannot tell you a factor';
    expect(of(OPEN, 'all')).toEqual([`${head}, because it is known only to ± 4.0 %.`]);
    expect(of(OPEN, 'blocked')).toEqual([]);
    const blocked = [`${head}. W.`];
    expect(of({ ...OPEN, improvement: null }, 'blocked')).toEqual(blocked);
    expect(of({ ...OPEN, relative_expanded_uncertainty: null }, 'all')).toEqual(blocked);
    expect(of(OPEN, 'blocked', [SUSPECT])).toEqual([`${head} while such an entry is open.`]);
    expect(of(OPEN, 'blocked', [{ ...SUSPECT, series: 'a' }])).toEqual([]);
  });

  test('what is in no budget: once for all that have one, else with the wavelengths', () => {
    const of = (...all: object[]) =>
      unknownParts(resultOf(all.map((one) => ({ ...SETTLED, ...one }))));
    const zero = { not_in_budget: ['zero'] };
    expect(of(zero, { ...zero, wavelength_nm: 640 })).toEqual(['zero']);
    expect(of(zero, { wavelength_nm: 640 })).toEqual(['zero (520 nm)']);
    expect(of(zero, { wavelength_nm: 640, budget: [] })).toEqual(['zero']);
    expect(
      of(
        { not_in_budget: ['zero', 'drift'] },
        { ...zero, wavelength_nm: 640 },
        { wavelength_nm: 405 },
      ),
    ).toEqual(['zero (520 nm, 640 nm)', 'drift (520 nm)']);
  });

  test.each([
    [null, false],
    [0.0499, false],
    [0.05, false],
    [0.0501, true],
  ])('a reading known to %s is beyond a tolerance of 5 %%: %s', (U, beyond) => {
    const one = only<WavelengthResult>({ corrected_reading_relative_U: U });
    expect(isBeyondTolerance(one, 5)).toBe(beyond);
  });
});

describe('the next step', () => {
  test('entries first, with every row', () => {
    const result = resultOf([OPEN], { suspects: [SUSPECT, { ...SUSPECT, rows: [9, 4] }] });
    expect(nextStep(result)).toMatch(/^Compare rows 4, 5, 9 of runs\.csv/);
  });
  test('then what blocks, then the open one nearest to an answer, then the least known', () => {
    const wide = { ...OPEN, wavelength_nm: 405, relative_expanded_uncertainty: 0.3 };
    const blocked = { ...wide, improvement: null };
    expect(nextStep(resultOf([OPEN, blocked, SETTLED]))).toBe('405 nm: Settle.');
    expect(nextStep(resultOf([wide, OPEN, SETTLED]))).toBe('640 nm: Repeat.');
    expect(nextStep(resultOf([OPEN, wide]))).toBe('640 nm: Repeat.');
    const unknown = { ...OPEN, wavelength_nm: 450, relative_expanded_uncertainty: null };
    expect(nextStep(resultOf([unknown, wide]))).toBe('405 nm: Repeat.');
    const better = { ...SETTLED, wavelength_nm: 450, relative_expanded_uncertainty: 0.01 };
    expect(nextStep(resultOf([better, SETTLED]))).toBe('520 nm, the least known: Repeat.');
    expect(nextStep(resultOf([SETTLED, better]))).toBe('520 nm, the least known: Repeat.');
    expect(nextStep(resultOf([]))).toBe('Take a series with both meters.');
  });
});

describe('how the candidate has to be read', () => {
  const reading = { kind: 'settled', read_at_s: 30, candidate_time_constant_s: 12 };
  const zeros = (...of: readonly (readonly [string, number | null])[]) =>
    only<Study>({ series: [{ runs: of.map(([meter, zero_mW]) => ({ meter, zero_mW })) }] });

  test.each([
    // 12 s · ln 100 = 55.3 s
    [reading, ' no earlier than 56 s after switch-on'],
    [{ ...reading, candidate_time_constant_s: null }, ''],
    [{ ...reading, kind: 'as-read' }, ' 30 s after switch-on'],
    [{ ...reading, kind: 'as-read', read_at_s: null }, ''],
  ])('%j:%s', (of, words) => {
    const result = resultOf([], { reading: of });
    expect(howToRead(result)).toBe(words);
    expect(howToRead(result, zeros(['candidate', null], ['candidate', 0], ['reference', 1]))).toBe(
      words,
    );
    expect(howToRead(result, zeros(['candidate', 0], ['candidate', -0.1]))).toBe(
      `${words}, less what it shows with the beam blocked`,
    );
  });
});

test('a factor is settled with a verdict and a number', () => {
  const settled = (changed: object) =>
    isSettled(only<WavelengthResult>({ ...SETTLED, ...changed }));
  expect([settled({}), settled({ factor: null }), settled({ verdict: 'inconclusive' })]).toEqual([
    true,
    false,
    false,
  ]);
  expect(
    answer(resultOf([{ ...SETTLED, levels: [] }], { confidence: 0.95, reading: {} })).rows,
  ).toEqual([]);
});

describe('warnings', () => {
  // In the order in which they bear on the use of a factor.
  const CODES = [
    'hazard-pulsed',
    'hazard-nothing-seen',
    'hazard-unbounded',
    'hazard-unit',
    'hazard-no-class',
    'hazard-taken-as-settled',
    'infrared-in-the-beam',
    'setting-wrong',
    'reference-contradicted',
    'neighbours-contradict',
    'series-contradict',
    'short-series-contradict',
    'reads-low-at-the-top',
    'certificate-out-of-date',
    'factor-moved',
    're-checks-out-of-control',
    'infrared-not-separated',
    'reading-time-not-stated',
    'read-too-early',
    'time-constant-contradicted',
  ];
  const warning = (code: string, series?: string, message = `${code}.`) =>
    series === undefined ? { code, message } : { code, message, series };

  test('from the worst, the others after them in the order they came', () => {
    const given = [warning('y'), ...CODES.map((code) => warning(code)).toReversed(), warning('x')];
    expect(ranked({ warnings: given }).map(({ code }) => code)).toEqual([...CODES, 'y', 'x']);
    expect(factorWarnings({ warnings: given }).map(({ code }) => code)).toEqual(CODES);
    expect(otherWarnings({ warnings: given })).toEqual(['y.', 'x.']);
  });

  test('others: each code together; the order bias of several series once', () => {
    const others = [
      warning('y', 'a'),
      warning('order-bias', 'a', 'Bias of 1 %.'),
      warning('x'),
      warning('y', 'b'),
      warning('order-bias', 'b', 'Bias of 2 %.'),
      warning('order-bias', 'c', 'Bias of 3 %.'),
    ];
    expect(otherWarnings({ warnings: others })).toEqual([
      'a: y.',
      'b: y.',
      'a: Bias of 1 %. So it is, by other amounts, in b, c: see the drift by series.',
      'x.',
    ]);
  });

  test('as texts: one of a series with it, the same of several once', () => {
    expect(warningText(warning('x'))).toBe('x.');
    expect(warningText(warning('x', 'a'))).toBe('a: x.');
    expect(
      warningTexts([warning('x', 'a'), warning('y'), warning('x', 'b'), warning('z', 'c')]),
    ).toEqual(['a, b: x.', 'y.', 'c: z.']);
    expect(warningTexts([])).toEqual([]);
  });
});

describe('words for a hazard', () => {
  const hazard = (changed: object) =>
    only<HazardResult>({
      class: '3B',
      reading_class: '3R',
      decided: true,
      highest_mW: 4,
      label_class: null,
      label_max_mW: null,
      label_understates: true,
      ...changed,
    });

  test.each([
    [{}, 'class 3B', 'class 3B by this data'],
    [
      { decided: false },
      'class 3B cannot be excluded; the reading by itself: class 3R',
      'class 3B cannot be excluded',
    ],
    [
      { decided: false, reading_class: null },
      'class 3B cannot be excluded',
      'class 3B cannot be excluded',
    ],
    [
      { class: null },
      'not judged: treat it as more hazardous than its power suggests',
      'not judged: treat as more hazardous',
    ],
  ])('%j: %s', (changed, zone, short) => {
    expect([hazardZone(hazard(changed)), hazardClassWords(hazard(changed))]).toEqual([zone, short]);
  });

  test.each([
    [{}, 'not stated'],
    [{ label_class: '2' }, 'class 2'],
    [{ label_max_mW: 1 }, 'at most 1 mW'],
    [{ label_class: '2', label_max_mW: 1 }, 'class 2, at most 1 mW'],
  ])('a label with %j says: %s', (changed, text) => {
    expect(labelWords(hazard(changed))).toBe(text);
  });

  const SHOWN = 'more hazardous than labelled';
  const MAY = 'may be more hazardous than labelled: treat it as such';
  test.each([
    [{ label_understates: false, label_class: '2' }, 'label not contradicted'],
    [{ label_understates: null }, 'no label to compare with'],
    [{ label_understates: null, label_class: '2' }, 'label neither shown right nor wrong'],
    [{ label_understates: null, label_max_mW: 1 }, 'label neither shown right nor wrong'],
    // 4 mW seen against what the label allows.
    [{ label_max_mW: 3.9 }, SHOWN],
    [{ label_max_mW: 4 }, MAY],
    [{ label_max_mW: 3.9, highest_mW: null }, MAY],
    [{ label_max_mW: null }, MAY],
    // Class 3R by the reading against the class of the label.
    [{ label_class: '2' }, SHOWN],
    [{ label_class: '3R' }, MAY],
    [{ label_class: '3B' }, MAY],
    [{ label_class: '2', reading_class: null }, MAY],
    [{ label_class: 'unreadable' }, MAY],
    [{ label_class: '3B', label_max_mW: 3.9 }, SHOWN],
  ])('%j: %s', (changed, text) => {
    expect(labelVerdict(hazard(changed))).toBe(text);
  });
});

describe('other words', () => {
  test.each([
    [
      { supported: true, p: 0.3, factor: 1.25, low: 1.2, high: 1.3 },
      'Supported (test of equal factors: p = 0.30). W. 1.250 (1.200 to 1.300).',
    ],
    [{ supported: true, p: null, factor: null, low: null, high: null }, 'Supported. W.'],
    [
      { supported: false, p: 0.0001, factor: 1.25, low: 1.2, high: 1.3 },
      'Not supported (test of equal factors: p < 0.001). W.',
    ],
  ])('one factor for all with %j: %s', (common, text) => {
    expect(commonWords(only({ common_factor: { why: 'W.', ...common } }))).toBe(text);
  });

  test('a sign before a probability, and a range of one power', () => {
    expect(['0.020', '< 0.001', '> 0.99'].map(withSign)).toEqual(['= 0.020', '< 0.001', '> 0.99']);
    expect([rangeWords([45, 47]), rangeWords([45, 45])]).toEqual(['45 to 47', '45 only']);
    expect(rangeWords([73.1, 75])).toBe('73.1 to 75.0');
  });

  test('a reference that states its uncertainty needs no word', () => {
    const study = (U: number | null) =>
      only<Study>({ reference: { expanded_uncertainty_percent: U } });
    expect(referenceOnly(study(3))).toBeNull();
    expect(referenceOnly(study(null))).toContain('relative to this reference only');
  });

  test('no break after a sign, before a slash, or within a power of ten', () => {
    expect(
      unbroken('3 × 10⁴, U = 3, k > 2, run 4 / row 5; 12 laps').replaceAll('\u00a0', '_'),
    ).toBe('3 ×_10⁴, U_=_3, k_>_2, run_4_/_row_5; 12_laps');
  });
});
