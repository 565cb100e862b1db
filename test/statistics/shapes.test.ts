import { describe, expect, test } from 'vitest';
import * as agree from '../../src/index.js';
import * as lines from '../../src/index.js';
import { requireList, requireNumbers, requireRecord } from '../../src/statistics/shapes.js';

const refused = expect.objectContaining({ name: 'MeterpairError', code: 'argument-wrong' });
const saying = (words: string) =>
  expect.objectContaining({ message: expect.stringContaining(words) });

test('the sentence says what was found: a text is not its number, a promise lacks its await', () => {
  expect(() => requireNumbers([1, '42'], 'Readings')).toThrow(saying('the text "42"'));
  expect(() => requireNumbers([1, undefined], 'Readings')).toThrow(saying('Found: undefined'));
  expect(() => requireList(Promise.resolve([]), 'Readings')).toThrow(saying('await'));
  expect(() => requireRecord({ x: [] }, 'Points', ['x', 'y'])).toThrow(saying('Found: no y'));
  expect(() => requireRecord([1], 'Points', ['x', 'y'])).toThrow(saying('a list of 1'));
  expect(() => requireNumbers(new Float64Array(2) as never, 'Readings')).not.toThrow();
});

const NO_LIST = [undefined, null, 'text', 42, {}, Promise.resolve([])];
const NO_NUMBERS = [
  ...NO_LIST,
  ['1', '2', '3', '4'],
  [1, undefined, 2, 3],
  [1, null, 2, 3],
  [[1], [2]],
];
const x = [1, 2, 3, 4];
const y = [1.1, 2, 3, 4.2];
/** Records of two lists with one of them wrong, missing or too short. */
const wrongPairs = (one: string, other: string): readonly unknown[] => [
  ...NO_NUMBERS,
  ...NO_NUMBERS.flatMap((wrong) => [
    { [one]: wrong, [other]: x },
    { [one]: x, [other]: wrong },
  ]),
  { [one]: x, [other]: [1, 2, 3] },
  { [one]: x },
];
type Call = (given: never) => unknown;
const call = (method: Call, given: unknown) => () => (method as (given: unknown) => unknown)(given);

describe('differences and ratios that are no list of numbers', () => {
  const margins = { low: 0.9, high: 1.1 };
  test.each<[string, Call]>([
    ['summariseDifferences', (v) => agree.summariseDifferences(v)],
    ['limitsOfAgreement', (v) => agree.limitsOfAgreement(v)],
    ['ratioLimits', (v) => agree.ratioLimits(v)],
    ['logRatios', (v) => agree.logRatios(v)],
    ['equivalenceOfDifference', (v) => agree.equivalenceOfDifference(v, margins)],
    ['equivalenceOfRatio', (v) => agree.equivalenceOfRatio(v, margins)],
    ['wilcoxonSignedRank', (v) => agree.wilcoxonSignedRank(v)],
    ['a series of replicateLimits', (v) => agree.replicateLimits([[1, 2], v])],
    [
      'repeats of replicatedMethodsLimits',
      (v) =>
        agree.replicatedMethodsLimits([
          { reference: x, candidate: y },
          { reference: x, candidate: v },
        ]),
    ],
  ])('%s', (_, method) => {
    for (const given of NO_NUMBERS) expect(call(method, given)).toThrow(refused);
  });
});

describe('pairs of unequal number, of texts, or none', () => {
  test.each<[string, Call]>([
    ['concordance', (p) => agree.concordance(p)],
    ['correlation', (p) => agree.correlation(p)],
    ['pitmanMorgan', (p) => agree.pitmanMorgan(p)],
    ['proportionalBias', (p) => agree.proportionalBias(p)],
    ['seriesAgainstLevel', (p) => agree.seriesAgainstLevel([p])],
  ])('%s', (_, method) => {
    for (const given of wrongPairs('reference', 'candidate')) {
      expect(call(method, given)).toThrow(refused);
    }
  });

  test.each<[string, Call]>([
    ['curvature', (p) => lines.curvature(p)],
    ['commonBend', (p) => lines.commonBend(p)],
    ['gainOrGainAndOffset', (p) => lines.gainOrGainAndOffset(p)],
  ])('%s', (_, method) => {
    for (const given of wrongPairs('reference_mW', 'candidate_mW')) {
      expect(call(method, given)).toThrow(refused);
    }
  });
});

describe('points that carry no line', () => {
  const u = [1, 1, 1, 1];
  test.each<[string, Call]>([
    ['ordinaryLine', (p) => lines.ordinaryLine(p)],
    ['weightedLine', (p) => lines.weightedLine(p)],
    ['demingLine', (p) => lines.demingLine(p)],
    ['yorkLine', (p) => lines.yorkLine(p)],
    ['theilSenLine', (p) => lines.theilSenLine(p)],
    ['passingBablokLine', (p) => lines.passingBablokLine(p)],
  ])('%s', (_, method) => {
    for (const given of wrongPairs('x', 'y')) expect(call(method, given)).toThrow(refused);
  });

  test('York and weighted lines without their uncertainties, or with too few or texts', () => {
    for (const wrong of [...NO_NUMBERS, [1, 1, 1], [1, 1, 1, -1]]) {
      expect(() => lines.weightedLine({ x, y, y_standard_uncertainty: wrong as never })).toThrow(
        refused,
      );
      for (const given of [
        { x, y, x_standard_uncertainty: u, y_standard_uncertainty: wrong },
        { x, y, x_standard_uncertainty: wrong, y_standard_uncertainty: u },
      ]) {
        expect(() => lines.yorkLine(given as never)).toThrow(refused);
      }
    }
    const whole = { x, y, x_standard_uncertainty: u, y_standard_uncertainty: u };
    expect(() => lines.yorkLine({ ...whole, correlation: 'none' as never })).toThrow(refused);
    expect(() => lines.yorkLine({ x, y } as never)).toThrow(refused);
  });
});

describe('results of one method that another needs', () => {
  test.each<[string, Call]>([
    ['limitsAtLevel', (found) => agree.limitsAtLevel(found, 3)],
    ['lapLimitsAtLevel', (found) => agree.lapLimitsAtLevel(found, 3, { spread: 'constant' })],
    ['predictOnLine', (line) => lines.predictOnLine(line, { x: 1 })],
    ['inverseOnLine', (line) => lines.inverseOnLine(line, { y: 1 })],
    ['limitsFromFigures', (figures) => agree.limitsFromFigures(figures)],
    ['approximateLimits', (figures) => agree.approximateLimits(figures, { formula: '1999' })],
    ['from figures of repeats', (figures) => agree.replicatedMethodsLimitsFromFigures(figures)],
    ['leaveOneSeriesOut', (series) => lines.leaveOneSeriesOut(series)],
    ['replicateLimits', (series) => agree.replicateLimits(series)],
    ['replicatedMethodsLimits', (sources) => agree.replicatedMethodsLimits(sources)],
  ])('%s', (_, method) => {
    for (const given of [...NO_LIST, ['1', '2'], [null, undefined], [{ id: 'a' }, {}]]) {
      expect(call(method, given)).toThrow(refused);
    }
  });
});
