// npm run fuzz -- [--cases N] [--seed N]
// Spoiled tables, bytes, odd but valid studies, factors and traces, by fast-check. Each has to end in an
// answer without NaN or infinity or in the one error, within 2 s. The same seed gives the same cases.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import fc from 'fast-check';
import {
  analyse,
  correct,
  factorsFile,
  factorsOf,
  MeterpairError,
  parseFactors,
  parseStudy,
  resultFile,
  terminalTable,
} from '../dist/index.js';
import { fileText, jsonValue, reportFigures } from '../dist/inside.js';
import { fitStepResponse } from '../dist/methods.js';
import { reportPage } from '../dist/notebook/index.js';

const { values } = parseArgs({
  options: {
    cases: { type: 'string', default: '25000' },
    seed: { type: 'string', default: '20260314' },
  },
});
const cases = Number(values.cases);
const seed = Number(values.seed);
if (!(Number.isInteger(cases) && cases > 0 && Number.isInteger(seed))) {
  console.error('--cases and --seed are whole numbers, for example --cases 25000 --seed 1');
  process.exit(2);
}
const MOST_MS = 2000;

const DEMO = new URL('../data-demo/', import.meta.url);
const files = readdirSync(DEMO).map((name) => {
  const read = (file) => readFileSync(join(DEMO.pathname, name, file), 'utf8');
  return { study: JSON.parse(read('study.json')), runs: read('runs.csv') };
});
const tables = files.map(({ study, runs }) => ({
  study,
  runs: runs.split('\n').slice(0, 40).join('\n'),
}));
const wholeFactors = (() => {
  const study = parseStudy(files[0].study, { runs: files[0].runs });
  return JSON.parse(factorsFile(factorsOf(study, analyse(study))));
})();

/** What is typed, copied or exported in place of what should stand there. */
const odd = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '0',
    '-0',
    '-1',
    '1e308',
    '1e-308',
    '5e-324',
    '1e999',
    'NaN',
    'Infinity',
    '1,5',
    '1.234,5',
  ),
  fc.constantFrom(
    '"',
    '""',
    ';',
    '\t',
    '\r',
    '\n',
    '\0',
    '\uFEFF',
    '=1+1',
    '<b>',
    '\u202E',
    '−4',
    '∞',
    '10 mW',
  ),
  // Any code points, halves of pairs included.
  fc.array(fc.nat(0x10ffff), { maxLength: 12 }).map((codes) => String.fromCodePoint(...codes)),
  fc.double().map(String),
);
/** One character typed wrongly: most often it can still be read. */
const typo = (text) =>
  fc
    .tuple(fc.nat(text.length - 1), fc.constantFrom(...'0123456789.'))
    .map(([at, put]) => text.slice(0, at) + put + text.slice(at + 1));
const spoilt = (text) =>
  fc
    .array(fc.tuple(fc.nat(text.length), fc.nat(8), odd), { minLength: 1, maxLength: 3 })
    .map((changes) =>
      changes.reduce(
        (now, [at, length, put]) => now.slice(0, at) + put + now.slice(at + length),
        text,
      ),
    );

const power = fc.oneof(
  fc.double({ min: 1, max: 100, noNaN: true }),
  fc.constantFrom(1e-6, 2e-6, 1e-3, 0.1, 1, 1e5, 9e7, 1e8),
);
const maybe = (one) => fc.option(one, { nil: undefined });
const meter = fc.record({
  resolution_mW: maybe(fc.constantFrom(1e-6, 0.01, 1, 100, 1e8)),
  rated_max_mW: maybe(fc.constantFrom(1e-6, 5, 1e8)),
  expanded_uncertainty_percent: maybe(fc.constantFrom(1e-6, 3, 99.9)),
  coverage_factor: maybe(fc.constantFrom(1e-6, 2, 1e6)),
  time_constant_s: maybe(fc.constantFrom(1e-6, 2, 1e6)),
  wavelength_setting: maybe(fc.boolean()),
});
const day = fc.constantFrom('1970-01-01', '2024-02-29', '2026-03-14', '2999-12-31');
const oddReference = fc
  .tuple(
    meter,
    fc.record({
      linearity_percent: maybe(fc.constantFrom(1e-6, 1, 99)),
      drift_percent_per_year: maybe(fc.constantFrom(1e-6, 1, 99)),
      certificate: maybe(
        fc.record({
          issued: maybe(day),
          by_wavelength: fc.uniqueArray(
            fc.record({
              wavelength_nm: fc.constantFrom(405, 520, 650, 1064),
              correction_factor: fc.constantFrom(0.5, 1, 1.004, 2),
              expanded_uncertainty_percent: fc.constantFrom(1e-6, 2.4, 99),
              coverage_factor: fc.constantFrom(1, 2, 100),
            }),
            { maxLength: 3, selector: (one) => one.wavelength_nm },
          ),
        }),
      ),
    }),
  )
  .map((parts) => Object.assign({}, ...parts));
const opinion = fc
  .record({
    kind: fc.constantFrom('certificate', 'maker', 'third-meter'),
    value_mW: power,
    expanded_uncertainty_mW: fc.constantFrom(null, 1e-6, 2, 1e6),
    coverage_factor: fc.constantFrom(1, 2, 100),
    date: maybe(day),
  })
  .map((one) => (one.expanded_uncertainty_mW === null ? { ...one, coverage_factor: null } : one));
const trace = fc
  .record({
    n: fc.oneof(fc.nat(40), fc.nat(700)),
    from: fc.constantFrom(0, 0, 0, 1e3, 1.7e9, 1e12),
    step: fc.constantFrom(0, 1e-6, 0.1, 1, 1e4),
    tau: fc.constantFrom(1e-3, 0.5, 5, 1e3),
    level: fc.constantFrom(0, 1e-6, 1, 80, 1e8),
    noise: fc.constantFrom(0, 1e-6, 0.01, 2),
    power: fc.constantFrom(0, 0, 1, 6),
  })
  .map(({ n, from, step, tau, level, noise, power }) => {
    const elapsed_s = Array.from({ length: n }, (_, i) => from + i * step);
    const wave = (i) => 1 + noise * Math.sin(12.9898 * i);
    const rise = (i) =>
      -Math.expm1((-i * step) / tau) + power * Math.expm1(Math.min(60, (i * power) / 10));
    return {
      elapsed_s,
      reading_mW: elapsed_s.map((_, i) => Math.min(1e8, level * rise(i) * wave(i))),
    };
  });

const oddSeries = fc.record({
  nm: fc.constantFrom(405, 520, 521, 532, 650, 1064, 10600),
  k: fc.constantFrom(1, 1, 1.1, 0.5, 10),
  filter: fc.oneof(
    { weight: 4, arbitrary: fc.constant(null) },
    { weight: 1, arbitrary: fc.constant('F') },
  ),
  label: fc.record({
    label_class: maybe(fc.constantFrom('1', '1M', '2', '3R', '3B', '4', 'IIIa')),
    label_max_mW: maybe(fc.constantFrom(1e-6, 1, 5, 1e8)),
    emission: maybe(fc.constantFrom('continuous', 'pulsed', 'unknown')),
    beam_diameter_mm: maybe(fc.constantFrom(1e-3, 3, 50)),
  }),
});
const oddStudy = fc
  .record({
    reference: oddReference,
    candidate: meter,
    record: fc.record({ date: maybe(day) }),
    opinions: fc.array(opinion, { maxLength: 3 }),
    traced: fc.array(fc.tuple(fc.nat(2), fc.integer({ min: 1, max: 4 }), trace), { maxLength: 2 }),
    protocol: fc.record({
      order: fc.constantFrom('reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'),
      discard_first_laps: fc.nat(3),
      read_at_s: maybe(fc.constantFrom(1e-6, 1, 20, 1e6)),
      exclude_outliers: fc.boolean(),
    }),
    tolerance_percent: fc.constantFrom(1e-6, 0.1, 5, 99),
    confidence: fc.constantFrom(0.6, 0.95, 0.999, 0.99999, 0.999999999),
    between_series_percent: maybe(fc.constantFrom(0, 1e-3, 2, 99)),
    level: power,
    // Of each series: its wavelength, how much more the reference shows than the candidate, its filter.
    kinds: fc.tuple(...Array.from({ length: 3 }, () => oddSeries)),
    rows: fc.array(
      fc.record({
        series: fc.nat(2),
        turned: fc.oneof(
          { weight: 5, arbitrary: fc.constant(false) },
          { weight: 1, arbitrary: fc.boolean() },
        ),
        scale: fc.oneof(
          { weight: 6, arbitrary: fc.double({ min: 0.97, max: 1.03, noNaN: true }) },
          { weight: 1, arbitrary: fc.constantFrom(1, 0.1, 10, 1e3) },
        ),
        zero: maybe(fc.constantFrom(0, 1e-7, -1e-3)),
        peak: fc.boolean(),
        setting: fc.constantFrom('', '', '', 520, 650),
      }),
      { minLength: 4, maxLength: 40 },
    ),
  })
  .map(({ level, rows, kinds, opinions, traced, ...settings }) => {
    const runsOf = [[], [], []];
    const lines = [...rows]
      .sort((a, b) => a.series - b.series)
      .map(({ series, turned, scale, zero, peak, setting }, i) => {
        const candidate = (i % 2 === 1) !== turned;
        const { nm, k, filter } = kinds[series];
        const ratio = candidate ? 1 : k;
        const shown = Math.min(1e8, Math.max(1e-6, level * scale * ratio * (1 + 0.1 * series)));
        const name = candidate ? 'candidate' : 'reference';
        runsOf[series].push(name);
        return [
          `s${series}`,
          `${nm} nm`,
          filter ?? '',
          settings[name].wavelength_setting ? setting : '',
          name,
          shown,
          zero ?? '',
          peak ? shown : '',
        ];
      });
    const runs = [
      'series,source,filter,setting_nm,meter,reading_mW,zero_mW,peak_mW',
      ...lines.map((line) => line.join(',')),
    ];
    const sources = [...new Set(kinds.map(({ nm }) => nm))].map((nm) => ({
      name: `${nm} nm`,
      wavelength_nm: nm,
      ...kinds.find((one) => one.nm === nm).label,
    }));
    const filters = [
      {
        name: 'F',
        transmissions: [{ wavelength_nm: 532, transmission: 0.5, standard_uncertainty: 0.01 }],
      },
    ];
    const readings = traced.flatMap(([series, run, { elapsed_s, reading_mW }], i) => {
      const meter = runsOf[series][run - 1];
      const twice = traced.findIndex(([s, r]) => s === series && r === run) < i;
      return meter === undefined || twice
        ? []
        : elapsed_s.map((t, k) => [`s${series}`, run, meter, t, Math.max(0, reading_mW[k])].join());
    });
    return {
      study: JSON.parse(JSON.stringify({ ...settings, sources, filters })),
      runs: `${runs.join('\n')}\n`,
      ...(readings.length === 0
        ? {}
        : { traces: `series,run,meter,elapsed_s,reading_mW\n${readings.join('\n')}\n` }),
      opinions: opinions.map((one) => ({ source: sources[0].name, ...one })),
    };
  });

/** A file of factors in which some numbers are others. */
const oddFactors = fc
  .array(
    fc.tuple(fc.nat(200), fc.constantFrom(0, -1, 1e-300, 1e-9, 0.5, 700, 1e9, 1e300, null, 'x')),
    { maxLength: 3 },
  )
  .map((changes) => {
    let place = 0;
    const put = new Map(changes);
    return JSON.parse(
      JSON.stringify(wholeFactors, (_, value) => {
        if (typeof value !== 'number') return value;
        const given = put.get(place++);
        return given === undefined ? value : given;
      }),
    );
  });

function finite(value, path) {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`${path} is ${value}`);
  if (typeof value === 'string' && /\b(?:NaN|Infinity|undefined)\b/.test(value)) {
    throw new Error(`${path} says "${value.slice(0, 120)}"`);
  }
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value)) finite(inner, `${path}.${key}`);
}

function analysed({ study: settings, ...texts }) {
  const study = parseStudy(settings, texts);
  // What has been read is answered: no refusal comes after that.
  try {
    return answered(study);
  } catch (error) {
    throw new Error(`after the files were read: ${error?.stack ?? error}`, { cause: error });
  }
}

function answered(study) {
  const result = analyse(study, { earlier: [null, wholeFactors][study.series.length % 2] });
  finite(result, 'result');
  const factors = factorsOf(study, result);
  finite(factors, 'factors');
  resultFile(result);
  parseFactors(factorsFile(factors));
  finite(terminalTable(result), 'table');
  return { study, result, factors };
}

const KINDS = [
  {
    name: 'tables',
    share: 0.42,
    cases: fc
      .constantFrom(...tables)
      .chain((one) =>
        fc
          .oneof(typo(one.runs), typo(one.runs), spoilt(one.runs))
          .map((runs) => ({ ...one, runs })),
      ),
    run: ({ study, runs }) => finite(parseStudy(study, { runs }).warnings, 'warnings'),
  },
  {
    name: 'bytes',
    share: 0.25,
    cases: fc.tuple(
      fc.uint8Array({ maxLength: 120 }),
      fc.constantFrom([], [0xff, 0xfe], [0xfe, 0xff], [0xef, 0xbb, 0xbf]),
      spoilt(JSON.stringify(files[0].study)),
    ),
    run: ([bytes, mark, json]) => {
      const { text } = fileText(Uint8Array.from([...mark, ...bytes]), 'runs.csv');
      const faults = [];
      const study = jsonValue(json, { code: 'study-json-invalid', file: 'study.json' }, faults);
      if (faults.length > 0) throw new MeterpairError(faults[0]);
      parseStudy(study, { runs: text });
    },
  },
  {
    name: 'factors',
    share: 0.275,
    cases: fc.tuple(
      oddFactors,
      fc.oneof(
        fc.double({ min: 60, max: 90, noNaN: true }),
        fc.double({ min: 60, max: 90, noNaN: true }),
        fc.constantFrom(40, 46, 1e-300, 1e300, '4,9', undefined, null, [40, 41], []),
      ),
      fc.constantFrom(...wholeFactors.factors.map((one) => one.wavelength_nm), 500, 1e300),
    ),
    run: ([content, reading_mW, wavelength_nm]) =>
      finite(correct(parseFactors(content), { reading_mW, wavelength_nm }), 'corrected'),
  },
  { name: 'odd but valid studies', share: 0.03, cases: oddStudy, run: analysed },
  {
    name: 'traces',
    share: 0.023,
    cases: trace,
    run: (one) => finite(fitStepResponse(one, { onset_s: 'fitted', drift: true }), 'fit'),
  },
  {
    name: 'reports',
    share: 0.002,
    cases: oddStudy,
    run: (one) => {
      const { study, result, factors } = analysed(one);
      const figures = reportFigures(study, result);
      reportPage({ study, result, factors, figures, plotlyBundle: '', versions: {} });
    },
  },
];

/** Whether it ended in an answer; `false` for the one error. */
function ends({ run }, one) {
  try {
    run(one);
    return true;
  } catch (error) {
    if (error instanceof MeterpairError) return false;
    throw error;
  }
}

let failures = 0;
for (const kind of KINDS) {
  const numRuns = Math.max(1, Math.round(kind.share * cases));
  const started = performance.now();
  let refused = 0;
  let slowest = 0;
  const property = fc.property(kind.cases, (one) => {
    const begun = performance.now();
    const answered = ends(kind, one);
    if (!answered) refused++;
    let took = performance.now() - begun;
    if (took > MOST_MS) {
      // Once more in processor time: what others do on the machine is not the case's fault.
      const from = process.cpuUsage();
      ends(kind, one);
      const { user, system } = process.cpuUsage(from);
      took = (user + system) / 1000;
    }
    slowest = Math.max(slowest, took);
    if (took > MOST_MS) throw new Error(`took ${took.toFixed(0)} ms`);
  });
  const found = fc.check(property, { numRuns, seed, endOnFailure: true });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(
    `${kind.name}: ${found.numRuns} cases in ${seconds} s, ${refused} refused, the slowest ${slowest.toFixed(0)} ms`,
  );
  if (!found.failed) continue;
  failures++;
  const { errorInstance: error } = found;
  console.error(
    `${kind.name} failed: ${error?.stack ?? error}\nCase: ${JSON.stringify(found.counterexample)?.slice(0, 3000)}`,
  );
}
if (failures > 0) process.exit(1);
