import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { correct } from '../../src/factors/correct.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseFactors } from '../../src/factors/parseFactors.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { OpinionComparison, OpinionResult, Result, Study } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { notFinite, steady, studyOf } from '../seriesStudy.js';

const REFERENCE = { expanded_uncertainty_percent: 4, coverage_factor: 2, resolution_mW: 0.001 };
const series = (reference: number, candidate: number, nm = 638) => [
  { id: 'a', nm, laps: steady(reference, candidate) },
];

/** One opinion against a reference that shows 100 mW with U = 4 %, and a candidate that shows 90. */
function judged(opinion: object, nm = 638): { result: Result; opinion: OpinionResult } {
  const result = analyse(
    studyOf(series(100, 90, nm), {
      reference: REFERENCE,
      opinions: [{ source: `laser ${nm}`, ...opinion }],
    }),
  );
  return { result, opinion: result.opinions[0] };
}

const against = (opinion: OpinionResult, meter: OpinionComparison['meter']) => {
  const found = opinion.comparisons.find((one) => one.meter === meter);
  if (found === undefined) throw new Error(`No comparison with the ${meter}.`);
  return found;
};

describe('by hand', () => {
  const certificate = {
    kind: 'certificate',
    value_mW: 106,
    expanded_uncertainty_mW: 2,
    coverage_factor: 2,
  };

  test('zeta and E_n of a certificate', () => {
    // Reference: calibration 4 %/2 = 2 mW, placement 1 % (the default between series) = 1 mW, no
    // scatter, display 0.001/√12 mW: u = 2.2361 mW. Certificate: u = 1 mW.
    // ζ = −6/√(5 + 1) = −2.4495, E_n = ζ/2
    const { opinion } = judged(certificate);
    const found = against(opinion, 'reference');
    near(found.standard_uncertainty_mW, Math.sqrt(5), 1e-6);
    near(found.zeta, -6 / Math.sqrt(6), 1e-5);
    near(found.en, -3 / Math.sqrt(6), 1e-5);
    near(found.difference_percent, -600 / 106, 1e-9);
    expect([found.verdict, found.calibration_stated]).toEqual(['questionable', true]);
    expect(opinion.standard_uncertainty_mW).toBe(1);
  });

  test('the candidate without a calibration has a zeta by its scatter, and no E_n', () => {
    // Placement 0.9 mW and display only: ζ = −16/√(0.81 + 1)
    const found = against(judged(certificate).opinion, 'candidate');
    near(found.zeta, -16 / Math.sqrt(1.81), 1e-5);
    expect([found.en, found.calibration_stated, found.verdict]).toEqual([null, false, 'disagrees']);
    expect(found.why).toContain('No calibration of this meter is stated');
  });

  test('the corrected candidate stands where the reference does, and is called no third vote', () => {
    const { opinion } = judged(certificate);
    near(against(opinion, 'corrected-candidate').value_mW, 100, 1e-9);
    expect(opinion.comparisons).toHaveLength(3);
    expect(opinion.supports).toBe('undecided');
  });

  test('what the value shares with the reference is taken out of both', () => {
    // u² = 5 + 1 − 2·0.8² = 4.72
    const { opinion } = judged({ ...certificate, common_standard_uncertainty_mW: 0.8 });
    near(against(opinion, 'reference').zeta, -6 / Math.sqrt(4.72), 1e-5);
    // The candidate leans on nothing of that
    near(against(opinion, 'candidate').zeta, -16 / Math.sqrt(1.81), 1e-5);
    expect(opinion.why).toContain('taken out');
    expect(judged(certificate).opinion.why).toContain('agrees too easily');
  });

  test('a common part larger than the whole gives no score', () => {
    const { opinion } = judged({ ...certificate, common_standard_uncertainty_mW: 1.5 });
    expect(against(opinion, 'reference').zeta).toBeNull();
    expect(opinion.why).toContain('of which it should be a part');
  });

  test('a maker’s value below the reading rules a meter out', () => {
    // 100 − 90 − 1.645·√(5 + 4) = 5.065; at least 100/(100 − 5.065) − 1 = 5.3352 %
    const { opinion, result } = judged({
      kind: 'maker',
      value_mW: 90,
      expanded_uncertainty_mW: 4,
      coverage_factor: 2,
    });
    const found = against(opinion, 'reference');
    expect(found.verdict).toBe('too-high');
    near(found.too_high_at_least_percent, 5.3352, 1e-4);
    expect(against(opinion, 'candidate').verdict).toBe('possible');
    // An upper bound never shows the other one to be right
    expect(opinion.supports).toBe('undecided');
    expect(result.warnings.map((one) => one.code)).toContain('reference-contradicted');
  });

  test('the same maker’s value says nothing of a frequency-doubled source', () => {
    const maker = { kind: 'maker', value_mW: 60, expanded_uncertainty_mW: 1, coverage_factor: 2 };
    const { opinion, result } = judged(maker, 532);
    expect(opinion.comparisons.map((one) => one.verdict)).toEqual([null, null, null]);
    expect(opinion.why).toContain('frequency-doubled');
    expect(result.warnings.map((one) => one.code)).not.toContain('reference-contradicted');
  });

  test('an uncertainty without a coverage factor is none', () => {
    const { opinion } = judged({ ...certificate, coverage_factor: null });
    expect(opinion.standard_uncertainty_mW).toBeNull();
    expect(opinion.comparisons.map((one) => one.zeta)).toEqual([null, null, null]);
    expect(opinion.why).toContain('without a coverage factor');
  });
});

describe('which power of the source', () => {
  const two = [
    { id: 'low', nm: 450, laps: steady(100, 90) },
    { id: 'high', nm: 450, laps: steady(1000, 900) },
  ];
  const opinion = { source: 'laser 450', value_mW: 900 };

  test('several powers leave open which of them a certificate is about', () => {
    const [found] = analyse(
      studyOf(two, { opinions: [{ ...opinion, kind: 'certificate' }] }),
    ).opinions;
    expect(found).toMatchObject({ comparisons: [], supports: 'undecided', series: [] });
    expect(found.why).toContain('several powers');
  });

  test('a maker’s value is held against the highest', () => {
    const [found] = analyse(studyOf(two, { opinions: [{ ...opinion, kind: 'maker' }] })).opinions;
    expect(found.series).toEqual(['high']);
    near(against(found, 'reference').value_mW, 1000, 1e-9);
  });
});

describe('three instruments', () => {
  test('whose scatter it is, by hand', () => {
    // The third meter shows 1.05 times the reference everywhere, the candidate scatters by
    // ln 1, ln 1.02, ln 0.98: s² of reference and third 0, of the candidate all of it
    const powers = [50, 100, 200];
    const off = [1, 1.02, 0.98];
    const result = analyse(
      studyOf(
        powers.map((p, i) => ({ id: `s${i}`, nm: 500 + 50 * i, laps: steady(p, p * off[i]) })),
        {
          opinions: powers.map((p, i) => ({
            source: `laser ${500 + 50 * i}`,
            kind: 'third-meter',
            value_mW: 1.05 * p,
          })),
        },
      ),
    );
    const logs = off.map(Math.log);
    const mean = (logs[0] + logs[1] + logs[2]) / 3;
    const sd = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 2);
    const { instruments, sources, why } = result.three_instruments;
    expect(sources).toHaveLength(3);
    near(instruments[0].relative_sd, 0, 1e-6);
    near(instruments[1].relative_sd, sd, 1e-9);
    near(instruments[2].relative_sd, 0, 1e-6);
    expect(why).toContain('colour');
  });
});

describe('what a source is compared by', () => {
  const third = (nm: number, value_mW: number) => ({
    source: `laser ${nm}`,
    kind: 'third-meter',
    value_mW,
  });

  test('too few sources for three scatters are counted and named', () => {
    const plans = [450, 638].map((nm) => ({ id: `s${nm}`, nm, laps: steady(100, 90) }));
    const said = (opinions: readonly object[]) =>
      analyse(studyOf(plans, { opinions })).three_instruments;
    expect(said([third(638, 100)])).toMatchObject({ sources: ['laser 638'], instruments: [] });
    expect(said([third(638, 100)]).why).toMatch(/; there is 1\.$/);
    expect(said([third(450, 99), third(638, 100), third(638, 101)]).why).toMatch(
      /; there are 2\.$/,
    );
    expect(said([]).why).toMatch(/; there are 0\.$/);
  });

  test('a source at several powers has no place among them, not with its highest either', () => {
    const plans = [
      ...[450, 520, 638].map((nm) => ({ id: `s${nm}`, nm, laps: steady(100, 90) })),
      { id: 'stronger', nm: 638, laps: steady(1000, 900) },
    ];
    const opinions = [third(450, 100), third(520, 101), third(638, 1000)];
    const found = analyse(studyOf(plans, { opinions })).three_instruments;
    expect(found).toMatchObject({ sources: ['laser 450', 'laser 520'], instruments: [] });
  });

  test('the candidate is corrected by the factor of the wavelength of the source', () => {
    // K is 100/80 at 450 nm and 100/90 at 638 nm: corrected 100 mW at either.
    const plans = [
      { id: 'blue', nm: 450, laps: steady(100, 80) },
      { id: 'red', nm: 638, laps: steady(100, 90) },
    ];
    const opinions = [third(450, 100), third(638, 100)];
    const found = analyse(studyOf(plans, { opinions })).opinions;
    for (const one of found) near(against(one, 'corrected-candidate').value_mW, 100, 1e-9);
    expect(found.map((one) => one.wavelength_nm)).toEqual([450, 638]);
  });

  test('without a factor the candidate stands there as it is', () => {
    const plans = [{ id: 'short', nm: 638, laps: steady(100, 90, 1) }];
    const [found] = analyse(studyOf(plans, { opinions: [third(638, 100)] })).opinions;
    expect(found.comparisons.map((one) => one.meter)).toEqual(['reference', 'candidate']);
  });
});

describe('the theatre group, of which the truth is known', () => {
  let study: Study;
  let result: Result;
  const found = (source: string, kind: string) =>
    result.opinions.find((one) => one.source === source && one.kind === kind) as OpinionResult;
  beforeAll(async () => {
    const folder = new URL('../../data-demo/4-second-opinion', import.meta.url);
    study = await readStudy(fileURLToPath(folder));
    result = analyse(study);
  });

  test('the meter that is right by the truth is the one supported', () => {
    const truth = JSON.parse(
      readFileSync(new URL('../../data-demo/4-second-opinion/truth.json', import.meta.url), 'utf8'),
    ) as { series: { source: string; factor_to_truth: number; factor_to_reference: number }[] };
    const decided = result.opinions.filter((one) => one.kind !== 'maker');
    expect(decided).toHaveLength(4);
    for (const one of decided) {
      const own = truth.series.find((series) => series.source === one.source);
      const candidateOff = Math.abs((own?.factor_to_truth ?? 0) - 1);
      const referenceOff = Math.abs(
        (own?.factor_to_truth ?? 0) / (own?.factor_to_reference ?? 1) - 1,
      );
      expect(one.supports).toBe(candidateOff < referenceOff ? 'candidate' : 'reference');
    }
    expect(decided.map((one) => one.supports).sort()).toEqual([
      'candidate',
      'candidate',
      'reference',
      'reference',
    ]);
  });

  test('as-new values without an uncertainty contradict nobody', () => {
    for (const source of ['red module', 'green module']) {
      expect(found(source, 'maker').supports).toBe('undecided');
    }
    // 50.6 mW shown against 45 mW as new: said, and not more than said
    expect(against(found('green module', 'maker'), 'candidate').verdict).toBeNull();
    expect(found('green module', 'maker').why).toContain('more than as new');
  });

  test('the reader is told not to use the factor at 405 nm', () => {
    const codes = result.warnings.filter((one) => one.code === 'reference-contradicted');
    expect(codes).toHaveLength(2);
    for (const one of codes) expect(one.message).toContain('405 nm');
  });

  test('a correction with the factor at 405 nm, or from it, says that the reference is contradicted', () => {
    const factors = parseFactors(factorsFile(factorsOf(study, result)));
    // At 405 nm K was measured at 88 mW, at 638 nm at 174 mW; a factor is given from half to twice that.
    const said = (wavelength_nm: number, reading_mW = 88) =>
      correct(factors, { reading_mW, wavelength_nm })
        .cautions.filter((one) => one.code === 'reference-contradicted')
        .map((one) => one.message);
    expect(said(405)).toHaveLength(1);
    expect(said(405)[0]).toContain('by a certificate and a third meter');
    expect(said(450)).toHaveLength(1);
    expect(said(638, 174)).toEqual([]);
  });

  test('the hazard of the violet module reckons with what others measured', () => {
    // The third meter: 90.1 mW ± 4.5 mW (k = 2); the meters of the study read too low there.
    const violet = result.hazard.find((one) => one.source === 'violet module');
    near(violet?.upper_mW ?? 0, 94.6, 1e-9);
    expect(violet?.highest_mW).toBeLessThan(90);
    expect(result.warnings.map((one) => one.code)).toContain('hazard-higher-elsewhere');
  });

  test('two sources are too few to tell three scatters apart', () => {
    expect(result.three_instruments.instruments).toEqual([]);
    expect(result.three_instruments.why).toContain('three sources');
    expect(notFinite(result)).toEqual([]);
  });
});

test('any stated value gives finite numbers or reasons, and a larger uncertainty a smaller zeta', () => {
  const value = fc.integer({ min: 1, max: 100_000 }).map((i) => i / 100);
  fc.assert(
    fc.property(
      value,
      value,
      fc.constantFrom('certificate', 'third-meter', 'maker'),
      (v, U, kind) => {
        const zetaOf = (uncertainty: number) => {
          const { result, opinion } = judged({
            kind,
            value_mW: v,
            expanded_uncertainty_mW: uncertainty,
            coverage_factor: 2,
          });
          expect(notFinite(result.opinions)).toEqual([]);
          return Math.abs(against(opinion, 'reference').zeta ?? 0);
        };
        expect(zetaOf(2 * U)).toBeLessThanOrEqual(zetaOf(U));
      },
    ),
    { seed: 44, numRuns: 15 },
  );
});

test('without opinions there is nothing to say', () => {
  const result = analyse(studyOf(series(100, 90)));
  expect(result.opinions).toEqual([]);
  expect(result.three_instruments.instruments).toEqual([]);
});

describe('several certificates of one source', () => {
  const certificate = (value_mW: number, more: object = {}) => ({
    source: 'laser 638',
    kind: 'certificate',
    value_mW,
    expanded_uncertainty_mW: 1,
    coverage_factor: 2,
    ...more,
  });
  const said = (...opinions: readonly object[]) =>
    analyse(studyOf(series(46, 42), { reference: REFERENCE, opinions: [...opinions] })).warnings;
  const contradictions = (...opinions: readonly object[]) =>
    said(...opinions).filter(({ code }) => code === 'certificates-contradict');

  test('that contradict each other are said once, with both', () => {
    const [one, ...more] = contradictions(certificate(60), certificate(30));
    expect(one?.message).toContain('"laser 638" contradict each other (60 ± 1 mW, 30 ± 1 mW)');
    expect(more).toEqual([]);
  });

  test('contradict the reference in one warning', () => {
    const against = said(certificate(60), certificate(30)).filter(
      ({ code }) => code === 'reference-contradicted',
    );
    expect(against).toHaveLength(1);
  });

  test('that agree, that state no uncertainty, or that are of other kinds do not', () => {
    // 2 mW apart, u = √(0.5² + 0.5²) = 0.707 mW: 2.83
    expect(contradictions(certificate(60), certificate(58))).toEqual([]);
    expect(contradictions(certificate(60), certificate(57.8))).toHaveLength(1);
    const open = { expanded_uncertainty_mW: null, coverage_factor: null };
    expect(contradictions(certificate(60), certificate(30, open))).toEqual([]);
    expect(contradictions(certificate(60), certificate(30, { kind: 'maker' }))).toEqual([]);
  });
});
