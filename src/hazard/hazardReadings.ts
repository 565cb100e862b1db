/** The runs of a series as the hazard judgement takes them: each at its most hazardous. */

import { curveOfLevels } from '../power/curveOfLevels.js';
import { factorAtPower } from '../power/factorAtPower.js';
import { highestFactorAt, LEAST_COVERAGE } from '../power/highestFactorAt.js';
import { filterState } from '../readings/behindFilter.js';
import type { OneKind } from '../readings/oneKind.js';
import { LEAST_SHOWN } from '../readings/settled.js';
import { missingFraction } from '../settle/missingFraction.js';
import { coverageFactor } from '../statistics/distributions.js';
import type { MeterRole, Series, WavelengthResult } from '../vocabulary.js';
import type { ReadToFactors } from '../wavelengths/readingsToFactors.js';
import { type HazardReading, LEAST_HAZARD_CONFIDENCE } from './hazardInput.js';

/**
 * Every run of one series, those that the calibration left out included.
 *
 * @param factor of the wavelength of the series (`hazardFactor`)
 */
export function hazardReadings(
  chapter: ReadToFactors,
  series: Series,
  factor: (candidate_mW: number) => Factor,
): HazardReading[] {
  const { study, readings, steps } = chapter;
  const found = chapter.series.find(({ result }) => result.id === series.id);
  const excluded = new Set(found?.result.excluded.map((exclusion) => exclusion.run) ?? []);
  const filter = filterState(study, series);
  const raised = raises(chapter, series);
  return series.runs.map((run) => {
    const { likely, most } = raised[run.meter];
    const reading_mW = run.reading_mW * likely;
    const { peak_mW: peak } = run;
    const highest_mW = Math.max(reading_mW, peak ?? reading_mW);
    return {
      meter: run.meter,
      highest_mW,
      most_mW: Math.max(highest_mW, run.reading_mW * most),
      shown_mW: Math.max(run.reading_mW / run.scale, peak ?? 0) + (steps[run.meter] ?? 0) / 2,
      step_mW: (steps[run.meter] ?? 0) * run.scale * most,
      peak: peak === null ? 'none' : peak > reading_mW ? 'highest' : 'recorded',
      transmission: { value: filter.transmission, standardUncertainty: filter.standardUncertainty },
      factor: run.meter === 'candidate' ? factor(highest_mW) : null,
      unbounded: openEnd(readings, series, run.meter, filter.status),
      place: `series "${series.id}", run ${run.run}`,
      excluded: excluded.has(run.run),
    };
  });
}

/** Why nothing bounds the power that a reading stands for. */
function openEnd(
  { settingStates, open }: OneKind,
  series: Series,
  meter: MeterRole,
  filter: ReturnType<typeof filterState>['status'],
): string | null {
  if (filter === 'not-stated') {
    return `what the filter "${series.filter}" lets through at ${series.wavelength_nm} nm is not stated, so the power in front of it may be anything. State its transmission in study.json, or measure without it.`;
  }
  return settingStates.get(series.id)?.[meter].status === 'wrong'
    ? `in the series "${series.id}" the ${meter} was set to a wrong wavelength, and what that does to its readings was not measured. Measure again at the right setting.`
    : // Its factor is made of readings of the reference.
      (open[meter] ?? open.reference);
}

interface Raise {
  readonly likely: number;
  readonly most: number;
}

/**
 * Settled reading over reading of each meter beside what the readings were brought to: a reading taken
 * too early is too low, also where the other meter is not known and no factor is corrected for it.
 * `most`: with the time constant at its upper end; a candidate's is no less than that of the reference,
 * which is in its factor.
 */
function raises({ readings, study }: ReadToFactors, series: Series): Record<MeterRole, Raise> {
  const { kind, constants, traced } = readings;
  const confidence = Math.max(study.confidence, LEAST_HAZARD_CONFIDENCE);
  const k = (dof: number) => Math.max(LEAST_COVERAGE, coverageFactor(confidence, dof));
  const of = (meter: MeterRole): Raise => {
    const { kind: brought, read_at_s: time } = kind;
    const constant = constants[meter];
    const gain = traced.get(series.source)?.[meter] ?? null;
    if (time !== null && constant !== null) {
      const { value_s: tau, standard_uncertainty_s: u, dof } = constant;
      const shown = 1 - missingFraction(time, tau);
      if (shown < LEAST_SHOWN) return { likely: 1, most: 1 };
      const least = 1 - missingFraction(time, tau + k(dof) * u);
      return brought === 'settled'
        ? { likely: 1, most: shown / least }
        : { likely: 1 / shown, most: 1 / least };
    }
    if (time !== null || gain === null) return { likely: 1, most: 1 };
    const likely = brought === 'settled' ? 1 : Math.max(1, 1 / gain.value);
    return { likely, most: likely * Math.exp(k(gain.dof) * gain.standardUncertainty) };
  };
  const [reference, candidate] = [of('reference'), of('candidate')];
  return {
    reference,
    candidate: { ...candidate, most: Math.max(candidate.most, reference.most) },
  };
}

type Factor = HazardReading['factor'];

/**
 * The factor for a reading of the candidate with the upper end that the hazard stage counts with: of the
 * reading's own power, by its level alone and by the levels drawn together, whichever is more; between
 * levels as if both neighbours were off together. `null`
 * where no factor is given at this power.
 */
export function hazardFactor(chapter: ReadToFactors, nm: number): (candidate_mW: number) => Factor {
  const { study, wavelengths } = chapter;
  const at = wavelengths.results.find((one) => one.wavelength_nm === nm);
  if (at === undefined || at.levels.length === 0) return () => null;
  const confidence = Math.max(study.confidence, LEAST_HAZARD_CONFIDENCE);
  const offset_mW = at.by_power.offset_mW;
  const together = at.levels.map((level) => ({ ...level, placement_correlation_with_next: 1 }));
  const alone = together.map((level) => ({ ...level, ...level.own }));
  // A single level is drawn towards no other.
  const curves = (together.length > 1 ? [together, alone] : [together]).map((levels) =>
    curveOfLevels({ levels, offset_mW }, study.confidence),
  );
  const known = new Map<number, number>();
  const coverage = (dof: number): number => {
    const k = known.get(dof) ?? coverageFactor(confidence, dof);
    known.set(dof, k);
    return k;
  };
  return (candidate_mW) => {
    if (!(candidate_mW > 0)) return factorAtLowest(at, confidence);
    const found = factorAtPower(curves[0], candidate_mW);
    const high = highestFactorAt(curves, candidate_mW, { coverage });
    if (found === null || high === null) return null;
    return { value: Math.exp(found.logFactor), high: Math.exp(high) };
  };
}

/** Below what the display shows there is no level: the lowest stands for what one step may hide. */
function factorAtLowest({ levels: [level] }: WavelengthResult, confidence: number): Factor {
  const k = Math.max(LEAST_COVERAGE, coverageFactor(confidence, level.dof));
  return {
    value: level.factor,
    high: Math.max(level.high, level.factor * Math.exp(k * level.relative_standard_uncertainty)),
  };
}
