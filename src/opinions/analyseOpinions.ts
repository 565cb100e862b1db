/** Values from elsewhere beside what the two meters show: which of them do they speak for? */

import { curveOfLevels } from '../power/curveOfLevels.js';
import { factorAtPower } from '../power/factorAtPower.js';
import { type FilterState, filterState } from '../readings/behindFilter.js';
import type { Steps } from '../readings/displayStep.js';
import { eachMeter, METERS, runsOn } from '../record/meters.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import { runsWithout } from '../series/balanced.js';
import { DEFAULT_BETWEEN_SERIES } from '../series/combineSeries.js';
import { capital } from '../statistics/sentences.js';
import { extremes, mean, standardDeviation } from '../statistics/summary.js';
import type {
  MeterRole,
  Opinion,
  OpinionResult,
  Run,
  Study,
  ThreeInstruments,
  Warning,
  WavelengthResult,
} from '../vocabulary.js';
import { compareWithOpinion, type SourcePower, statedUncertainty } from './compareWithOpinion.js';
import { contradictsReference } from './contradictsReference.js';
import { saidBy } from './saidBy.js';
import { compatibilityScore } from './secondOpinion.js';
import { precisionOfThree } from './threeInstruments.js';

/** Powers that differ by more than this are not one power of a source. */
const SAME_POWER = 1.1;

export interface OpinionAnalysis {
  readonly results: readonly OpinionResult[];
  readonly threeInstruments: ThreeInstruments;
  readonly warnings: readonly Warning[];
}

export interface OpinionInput {
  readonly study: Study;
  readonly series: readonly SeriesAnalysis[];
  readonly wavelengths: readonly WavelengthResult[];
  readonly steps: Steps;
  /** Series that hold more than the wanted line, by id. */
  readonly unisolated: ReadonlySet<string>;
}

/**
 * Compares every value of opinions.json with the power of its source on the reference, on the
 * candidate and on the corrected candidate.
 *
 * The power is the mean of the used readings. Its uncertainty holds the calibration where one is
 * stated, the placement, the display step, and the whole scatter of the readings, because nobody
 * knows to which moment of a drift the other value belongs. A maker's value is compared with the
 * highest power of its source.
 */
export function analyseOpinions(input: OpinionInput): OpinionAnalysis {
  const { study } = input;
  const results = study.opinions.map((opinion) =>
    compareWithOpinion(study, opinion, powerOf(input, opinion.source, opinion.kind === 'maker')),
  );
  return {
    results,
    threeInstruments: threeInstruments(input),
    warnings: [
      ...contradictingCertificates(study),
      // Two values of one kind may contradict the reference alike.
      ...new Map(results.flatMap(warnings).map((one) => [one.message, one])).values(),
    ],
  };
}

/** What both meters show of a source; a reason in words where it has no single power. */
function powerOf(input: OpinionInput, name: string, highest: boolean): SourcePower | string {
  const { study } = input;
  const analyses = input.series.filter(({ result }) => result.source === name);
  const bare = analyses.flatMap((analysis) => {
    const series = study.series.find((one) => one.id === analysis.result.id);
    // Where a filter has left the wanted line alone, the other series are of other light too.
    if (series === undefined || input.unisolated.has(series.id)) return [];
    const filter = filterState(study, series);
    if (filter.status === 'other-light' || filter.status === 'not-stated') return [];
    const kept = runsWithout(series, analysis.result.excluded);
    const levels = METERS.map((meter) => level(kept, meter, filter));
    return levels[0] === null || levels[1] === null
      ? []
      : [{ id: series.id, reference: levels[0], candidate: levels[1], analysis }];
  });
  if (bare.length === 0) {
    return 'No series shows the power of this source on both meters: without a filter, or behind one whose transmission of the source is stated.';
  }
  const powers = bare.map((one) => one.reference.value_mW);
  const top = extremes(powers)[1];
  const used = highest ? bare.filter((one) => one.reference.value_mW * SAME_POWER >= top) : bare;
  if (!(top <= SAME_POWER * extremes(used.map((one) => one.reference.value_mW))[0])) {
    return 'The source was run at several powers, and which of them the value is about is not known.';
  }
  const nm = used[0].analysis.result.wavelength_nm;
  const at = input.wavelengths.find((one) => one.wavelength_nm === nm);
  const average = (meter: MeterRole) => ({
    value_mW: mean(used.map((one) => one[meter].value_mW)),
    relative_sd: extremes(used.map((one) => one[meter].relative_sd))[1],
  });
  return {
    series: used.map((one) => one.id),
    wavelength_nm: nm,
    ...eachMeter(average),
    placement: Math.max(at?.between_series_relative_sd ?? 0, DEFAULT_BETWEEN_SERIES),
    factor: factorOf(at, mean(used.map((one) => one.candidate.shown_mW)), study.confidence),
    steps: input.steps,
    isolated: [...input.unisolated].some(
      (id) => study.series.find((one) => one.id === id)?.source === name,
    ),
  };
}

/** The factor of the power at which the candidate looked. */
function factorOf(
  at: WavelengthResult | undefined,
  candidate_mW: number,
  confidence: number,
): SourcePower['factor'] {
  if (at === undefined || at.levels.length === 0) return null;
  const curve = curveOfLevels({ levels: at.levels, offset_mW: at.by_power.offset_mW }, confidence);
  const found = factorAtPower(curve, candidate_mW);
  if (found === null) return null;
  return {
    value: Math.exp(found.logFactor),
    relative_standard_uncertainty: Math.hypot(
      found.standardUncertainty,
      (found.between + found.outside) / Math.sqrt(3),
    ),
  };
}

/** Power of the source by a meter's used readings, in front of any filter, and their scatter. */
function level(runs: readonly Run[], meter: MeterRole, filter: FilterState) {
  const own = runsOn(runs, meter).map((run) => run.reading_mW);
  if (own.length === 0) return null;
  const value = mean(own);
  if (!(value > 0)) return null;
  return {
    /** What the meter itself showed, behind any filter. */
    shown_mW: value,
    value_mW: value / filter.transmission,
    relative_sd: Math.hypot(
      own.length > 1 ? standardDeviation(own) / value : 0,
      filter.standardUncertainty / filter.transmission,
    ),
  };
}

/** Sources that a third meter has measured too, one item a source. */
function threeInstruments(input: OpinionInput): ThreeInstruments {
  const third = input.study.opinions.filter((one) => one.kind === 'third-meter');
  const items = [...new Set(third.map((one) => one.source))].flatMap((source) => {
    const power = powerOf(input, source, false);
    if (typeof power === 'string') return [];
    const values = third.filter((one) => one.source === source).map((one) => one.value_mW);
    return [
      {
        source,
        reference: power.reference.value_mW,
        candidate: power.candidate.value_mW,
        third: Math.exp(mean(values.map(Math.log))),
      },
    ];
  });
  const sources = items.map((one) => one.source);
  if (items.length < 3) {
    return {
      sources,
      instruments: [],
      why: `To tell the scatter of three meters apart, all three have to measure three sources; there ${items.length === 1 ? 'is 1' : `are ${items.length}`}.`,
    };
  }
  const meters = ['reference', 'candidate', 'third-meter'] as const;
  const found = precisionOfThree({
    instruments: [
      { name: 'the reference', values: items.map((one) => one.reference) },
      { name: 'the candidate', values: items.map((one) => one.candidate) },
      { name: 'the third meter', values: items.map((one) => one.third) },
    ],
  });
  return {
    sources,
    instruments: found.instruments.map((one, i) => ({
      meter: meters[i],
      relative_sd: one.standardDeviation,
    })),
    why: `${found.why} It is the scatter from source to source, each meter's dependence on colour included, and takes all values of kind third-meter for those of one meter that leans on neither of the two.`,
  };
}

/** Sources with certificates that exclude each other, one warning a source. */
function contradictingCertificates({ opinions }: Study): readonly Warning[] {
  const certificates = opinions.filter((one) => one.kind === 'certificate');
  return [...new Set(certificates.map((one) => one.source))].flatMap((source) => {
    const own = certificates.filter((one) => one.source === source);
    const odd = own.filter((one) => own.some((other) => exclude(one, other)));
    if (odd.length === 0) return [];
    const shown = odd.map((one) => `${one.value_mW} ± ${one.expanded_uncertainty_mW} mW`);
    return [
      {
        code: 'certificates-contradict',
        message: `The certificates of "${source}" contradict each other (${shown.join(', ')}): at least one of them is wrong or of another state of the source, so none of them can say which meter is right until it is known which.`,
      },
    ];
  });
}

function exclude(one: Opinion, other: Opinion): boolean {
  const [ours, theirs] = [one, other].map((opinion) => ({
    value_mW: opinion.value_mW,
    standardUncertainty_mW: statedUncertainty(opinion),
  }));
  return compatibilityScore({ ours, theirs }).verdict === 'disagrees';
}

function warnings(one: OpinionResult): Warning[] {
  if (!contradictsReference(one)) return [];
  return [
    {
      code: 'reference-contradicted',
      message: `${capital(saidBy(one.kind))} contradicts the reference at ${one.wavelength_nm} nm ("${one.source}"). Find out which is right before using a factor of this study there: it would carry the error of the reference.`,
    },
  ];
}
