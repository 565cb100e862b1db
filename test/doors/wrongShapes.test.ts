/**
 * Whatever is handed to a method in place of what its example on the page hands it, the answer is the
 * one error: never another one, never a result made of a text, a NaN or a negative uncertainty.
 */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { MeterpairError } from '../../src/error.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { demoScenarios } from '../../src/simulate/demo/demoScenarios.js';
import { BLOCKS, DOORS, type Doors, runExamples, written } from './examples.js';

type Call = readonly unknown[];
type Method = (...given: Call) => unknown;

/** Every call of a method by an example, with what it was given. */
function callsOfExamples(): ReadonlyMap<string, readonly Call[]> {
  const calls = new Map<string, Call[]>();
  const listening = (name: string, method: unknown) => {
    if (typeof method !== 'function' || method === MeterpairError) return method;
    return (...given: Call) => {
      calls.set(name, [...(calls.get(name) ?? []), given]);
      return method(...given);
    };
  };
  const doors: Doors = Object.fromEntries(
    Object.entries(DOORS).map(([door, names]) => [
      door,
      Object.fromEntries(Object.entries(names).map(([name, one]) => [name, listening(name, one)])),
    ]),
  );
  for (const block of BLOCKS.values()) runExamples(block, doors);
  return calls;
}

/** Texts that may be anything. */
const FREE_TEXT = /^(name|id|note|source|title|text|groups|parseLabelClass)$/;
const NOT_NEGATIVE = /uncertainty|(^|_)sd$|Sd(_mW)?$|half_width|^step$/i;

/** Arguments that are results of other methods: fields that nobody reads may be anything. */
const RESULTS =
  /^(limitsAtLevel|lapLimitsAtLevel|predictOnLine|inverseOnLine|combineTimeConstants|correlationOfResults) [01]\./;

interface Wrong {
  readonly place: string;
  readonly given: Call;
  /** Whether a result is right as well: what may be left out, or empty. */
  readonly may: boolean;
}

const replaced = (
  whole: unknown,
  [at, ...rest]: readonly (string | number)[],
  by: unknown,
): unknown => {
  if (at === undefined) return by;
  if (Array.isArray(whole))
    return whole.map((one, i) => (i === at ? replaced(one, rest, by) : one));
  return { ...(whole as object), [at]: replaced((whole as never)[at], rest, by) };
};

const promise = Promise.resolve({});

const DEMO = parseStudy(
  {
    reference: { name: 'Bench head' },
    candidate: { name: 'Drawer meter' },
    sources: [{ name: 'green', wavelength_nm: 520 }],
  },
  { runs: ['reference_mW,candidate_mW', '50,45', '51,46', '50,45', '51,45', '50,46'].join('\n') },
);

/** What a value must not be, by its kind; `true`: a result is right as well. */
function wrongFor(value: unknown, key: string): readonly (readonly [unknown, boolean])[] {
  const left = [
    [null, true],
    [undefined, true],
  ] as const;
  if (typeof value === 'number') {
    const sign = NOT_NEGATIVE.test(key) ? ([[-1, false]] as const) : [];
    return [
      [String(value), false],
      [Number.NaN, false],
      [{}, false],
      [[value], false],
      ...sign,
      ...left,
    ];
  }
  if (typeof value === 'string') {
    return FREE_TEXT.test(key)
      ? [[42, true], [{}, true], ...left]
      : [['no such word', false], [42, false], ...left];
  }
  if (typeof value === 'boolean') return [['yes', false], [1, false], ...left];
  if (typeof value === 'function') return [[42, false], [{}, false], ...left];
  if (value === null) return [];
  const kinds = [[42, false], ['text', false], [promise, false], ...left] as const;
  return Array.isArray(value) ? [...kinds, [{}, false], [[], true]] : [...kinds, [[value], false]];
}

/** First and last of a list, every field of a record. */
function wrongIn(given: Call, method: string): readonly Wrong[] {
  const found: Wrong[] = [];
  const visit = (value: unknown, path: readonly (string | number)[], key: string) => {
    for (const [by, may] of wrongFor(value, key)) {
      const place = `${path.join('.')} = ${typeof by === 'object' ? JSON.stringify(by) : String(by)}`;
      found.push({ place, given: replaced(given, path, by) as Call, may });
    }
    if (Array.isArray(value)) {
      for (const i of new Set([0, value.length - 1]))
        if (i >= 0) visit(value[i], [...path, i], key);
    } else if (typeof value === 'object' && value !== null) {
      for (const [name, one] of Object.entries(value)) visit(one, [...path, name], name);
    }
  };
  for (const [i, one] of given.entries())
    visit(one, [i], method === 'parseLabelClass' ? method : '');
  return found;
}

/** What came out, in a word. */
function outcome(method: Method, given: Call): string {
  try {
    method(...given);
    return 'a result';
  } catch (error) {
    return error instanceof MeterpairError ? 'the error' : String(error);
  }
}

/** Methods without a record of options: their arguments have places or are data. */
const NO_OPTIONS = [
  'combineTimeConstants',
  'correlation',
  'correlationOfResults',
  'contrastBias',
  'coverageFactor',
  'coverageOfBudget',
  'designUncertainty',
  'dofFromRelativeUncertainty',
  'effectiveDof',
  'exactDistribution',
  'jackknife',
  'missingFraction',
  'noncentralStudentCdf',
  'noncentralStudentQuantile',
  'nonlinearLeastSquares',
  'parseLabelClass',
  'partialDerivative',
  'residualBias',
  'residualBiasOf',
  'runOrder',
  'timeToSettle',
  'validateFormula',
];

const calls = callsOfExamples();

/** Of the front door: those whose input is small enough to be tried field by field. */
const SMALL_INPUT = [
  'lapsToShowBias',
  'nextImprovement',
  'recommendOrder',
  'resolutionNote',
  'runOrder',
  'severalUnits',
];

describe('methods', () => {
  const methods = [
    ...Object.entries(DOORS['meterpair/methods'] ?? {}),
    ...Object.entries(DOORS.meterpair ?? {}).filter(([name]) => SMALL_INPUT.includes(name)),
  ] as readonly [string, Method][];

  test.each(methods)('%s refuses what has another shape', (name, method) => {
    const given = calls.get(name) ?? [];
    expect(given.length).toBeGreaterThan(0);
    const wrong = given.flatMap((call) => wrongIn(call, name).map((one) => ({ ...one, call })));
    expect(wrong.length).toBeGreaterThan(3);
    const accepted = wrong.flatMap((one) => {
      const found = outcome(method, one.given);
      const unread =
        found === 'a result' &&
        RESULTS.test(`${name} ${one.place}`) &&
        written(method(...one.given)) === written(method(...one.call));
      const right = found === 'the error' || (one.may && found === 'a result') || unread;
      return right ? [] : [`${one.place} → ${found}`];
    });
    expect([...new Set(accepted)]).toEqual([]);
  });

  test.each(methods.filter(([name]) => !NO_OPTIONS.includes(name)))(
    '%s refuses an option that nobody reads',
    (name, method) => {
      for (const given of calls.get(name) ?? []) {
        const last = given[given.length - 1];
        const alone = given.length === 1 || typeof last !== 'object' || Array.isArray(last);
        const with_ = (options: object) =>
          alone &&
          outcome(method, [...given, {}]) === 'a result' &&
          outcome(method, [...given, options]) === 'the error'
            ? [...given, options]
            : [...given.slice(0, -1), { ...(last as object), ...options }];
        expect(() => method(...with_({ confidance: 0.9 }))).toThrow(
          expect.objectContaining({ code: 'argument-wrong', found: 'confidance' }),
        );
      }
    },
  );
});

describe('the front door', () => {
  const study = DEMO;
  const result = analyse(study);
  const factors = factorsOf(study, result);
  const sheet = {
    sources: [{ name: 'green', wavelength_nm: 520 }],
    laps: 4,
    order: 'ABBA',
  };
  const RIGHT: Readonly<Record<string, Call>> = {
    analyse: [study],
    chartFactors: [[factors], factors],
    cardPage: [study, result],
    compareFactors: [factors, factors],
    correct: [factors, { reading_mW: 40, wavelength_nm: 520 }],
    factorsFile: [factors],
    factorsOf: [study, result],
    formatNumber: [1.5, {}],
    formatUncertain: [1.5, 0.1, {}],
    parseFactors: ['{}'],
    parseStudy: [{}, { runs: '' }],
    planComparison: [{}],
    planStudy: [{}],
    plannedPlacement: ['jig'],
    resultFile: [result],
    runSheet: [sheet],
    runSheetText: [{ ...sheet, title: 'Bench' }],
    terminalTable: [result],
    unitFactors: [[factors], { wavelength_nm: 520 }],
    virtualStudy: [demoScenarios[0]],
  };
  /** What is right as well: what may be left out, a number for a number, no earlier factors. */
  const MAY: Readonly<Record<string, readonly string[]>> = {
    chartFactors: ['0 []'],
    formatNumber: ['0 null', '0 42', '1 undefined', '1 {}'],
    formatUncertain: ['0 null', '1 null', '0 42', '1 42', '2 undefined', '2 {}'],
    plannedPlacement: ['0 undefined'],
  };
  const wrong = [undefined, null, 42, true, [], {}, [42], promise, Symbol.iterator, () => 1];

  test('every function of it is tried', () => {
    const functions = Object.entries(DOORS.meterpair ?? {})
      .filter(([name, one]) => typeof one === 'function' && name !== 'MeterpairError')
      .map(([name]) => name);
    const elsewhere = [...SMALL_INPUT, 'readStudy', 'readFactors', 'studyJsonSchema'];
    expect(functions.filter((name) => !(name in RIGHT) && !elsewhere.includes(name))).toEqual([]);
  });

  test.each(Object.entries(RIGHT))('%s refuses what has another shape', (name, right) => {
    const method = DOORS.meterpair?.[name] as Method;
    const wrongs = right.flatMap((_, i) =>
      [...wrong, ...(typeof right[i] === 'string' ? [] : ['text'])].map((one) => [i, one] as const),
    );
    const accepted = wrongs
      .map(
        ([i, one]) =>
          [
            i,
            one,
            outcome(
              method,
              right.map((given, at) => (at === i ? one : given)),
            ),
          ] as const,
      )
      .filter(([, , found]) => found !== 'the error')
      .filter(([i, one]) => !(MAY[name] ?? []).includes(`${i} ${JSON.stringify(one)}`))
      .map(
        ([i, one, found]) =>
          `${i} = ${typeof one === 'object' ? JSON.stringify(one) : String(one)} → ${found}`,
      );
    expect(accepted).toEqual([]);
  });

  test.each(['readStudy', 'readFactors'])('%s refuses what is no path', async (name) => {
    const method = DOORS.meterpair?.[name] as (path: unknown) => Promise<unknown>;
    for (const one of wrong) {
      await expect(async () => method(one)).rejects.toThrow(MeterpairError);
    }
  });
});
