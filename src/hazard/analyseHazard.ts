/** Hazard class of every source against its label, from all that was ever read of it. */

import { statedUncertainty } from '../opinions/compareWithOpinion.js';
import { meterAt } from '../readings/certificate.js';
import { eachMeter, METERS } from '../record/meters.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import { capital } from '../statistics/sentences.js';
import { extremes } from '../statistics/summary.js';
import type { HazardResult, MeterRole, Series, Source, Study, Warning } from '../vocabulary.js';
import type { ReadToFactors } from '../wavelengths/readingsToFactors.js';
import { type HazardJudgement, judgeHazard } from './hazard.js';
import type { HazardInput, MeasuredElsewhere } from './hazardInput.js';
import { hazardFactor, hazardReadings } from './hazardReadings.js';
import { classRank } from './labelClass.js';

/**
 * Judges every source by all of its runs: those that the calibration left out, cold starts and the
 * runs under two settings included. A source that was run at several wavelengths is judged at each of
 * them, and the most hazardous counts.
 */
export function analyseHazard(
  chapter: ReadToFactors,
  /** The same study with open slips mended: whichever is more hazardous counts. */
  others: readonly ReadToFactors[] = [],
): {
  readonly results: readonly HazardResult[];
  readonly warnings: readonly Warning[];
} {
  const judged = chapter.study.sources.map((source) => {
    const typed = judgeUnits(chapter, source);
    const all = [typed, ...others.map((other) => judgeUnits(other, source))];
    const [worst] = [...all].sort((a, b) => moreHazardous(a.hazard, b.hazard));
    if (worst === typed) return typed;
    const why = `Judged with an entry that looks like a slip of the pen put right, which is the more hazardous reading. ${worst.hazard.why}`;
    return { ...worst, hazard: { ...worst.hazard, decided: false, why } };
  });
  return {
    results: judged.map((one) => one.hazard),
    warnings: [...emissionWarnings(chapter.study), ...judged.flatMap((one) => one.warnings)],
  };
}

/** Between these times below its label a source is more likely typed in W than as weak (own choice). */
const THOUSANDTH = [300, 3000] as const;

/** As typed; and in W as well where everything stands about a factor of 1000 below the label. */
function judgeUnits(chapter: ReadToFactors, source: Source): HazardJudgement {
  const typed = judgeSource(chapter, source);
  const { label_max_mW: most, upper_mW: upper } = typed.hazard;
  const times = most === null || upper === null ? 0 : most / upper;
  if (times < THOUSANDTH[0] || times > THOUSANDTH[1]) return typed;
  const message = `all that was read of it is about a thousandth of the ${most} mW of its label. Were the readings in W? Name the unit in the headings of runs.csv; if they were in mW, the source, its label or the aim of the beam is another.`;
  const inW = judgeSource(chapter, source, 1000);
  return {
    hazard: {
      ...inW.hazard,
      decided: false,
      why: `Judged as if readings were in W, which is more hazardous. ${capital(message)} ${inW.hazard.why}`,
    },
    warnings: [{ code: 'hazard-unit', message: `${source.name}: ${message}` }, ...inW.warnings],
  };
}

/** @param times what every reading is multiplied by */
function judgeSource(chapter: ReadToFactors, source: Source, times = 1): HazardJudgement {
  const own = chapter.study.series.filter((one) => one.source === source.name);
  const wavelengths = [...new Set(own.map((one) => one.wavelength_nm))].sort((a, b) => a - b);
  const at = (wavelengths.length === 0 ? [source.wavelength_nm] : wavelengths).map((nm) =>
    judgeAt(
      chapter,
      { ...source, wavelength_nm: nm },
      own.filter((one) => one.wavelength_nm === nm),
      times,
    ),
  );
  const [worst, ...others] = at.sort((a, b) => moreHazardous(a.hazard, b.hazard));
  if (others.length === 0) return worst;
  const rest = others
    .map(({ hazard }) => `at ${hazard.wavelength_nm} nm class ${hazard.class ?? 'not known'}`)
    .join(', ');
  return {
    hazard: {
      ...worst.hazard,
      decided: at.every(({ hazard }) => hazard.decided),
      label_understates: worstLabel(at.map(({ hazard }) => hazard.label_understates)),
      why: `Run at ${wavelengths.join(' and ')} nm; the most hazardous counts (${rest}). Were they emitted at once, their hazards would add up. ${worst.hazard.why}`,
    },
    warnings: at.flatMap((one) => one.warnings),
  };
}

/** Classes first, then the class of the reading, then what is left open above. */
function moreHazardous(a: HazardResult, b: HazardResult): number {
  const rank = (one: HazardResult['class']) => (one === null ? -1 : classRank(one));
  const open = ({ upper_mW }: HazardResult) => upper_mW ?? Number.MAX_VALUE;
  return (
    rank(b.class) - rank(a.class) ||
    rank(b.reading_class) - rank(a.reading_class) ||
    open(b) - open(a)
  );
}

function worstLabel(all: readonly (boolean | null)[]): boolean | null {
  if (all.includes(true)) return true;
  return all.every((one) => one === false) ? false : null;
}

function judgeAt(
  chapter: ReadToFactors,
  source: Source,
  own: readonly Series[],
  times: number,
): HazardJudgement {
  const { study, series } = chapter;
  const analyses = series.filter(({ result }) => own.some((one) => one.id === result.id));
  const factor = hazardFactor(chapter, source.wavelength_nm);
  return judgeHazard({
    source,
    readings: own
      .flatMap((one) => hazardReadings(chapter, one, factor))
      .map((one) => ({
        ...one,
        highest_mW: times * one.highest_mW,
        most_mW: times * one.most_mW,
        shown_mW: times * one.shown_mW,
        step_mW: times * one.step_mW,
      })),
    reference: meterAt(study.reference, source.wavelength_nm),
    confidence: study.confidence,
    elsewhere: measuredElsewhere(study, source.name),
    takenAsSettled: takenAsSettled(chapter, source.name),
    infrared: infraredOf(chapter, source.name),
    repeatability: eachMeter((meter) => worst(analyses, meter)),
  });
}

/** Meters of which a time constant is known, and neither a reading time nor a trace says what is missing. */
function takenAsSettled({ readings }: ReadToFactors, source: string): readonly MeterRole[] {
  const { kind, constants, traced } = readings;
  if (kind.kind === 'settled' || kind.read_at_s !== null) return [];
  return METERS.filter((meter) => constants[meter] !== null && !traced.get(source)?.[meter]);
}

/** What a filter told of infrared in this source; two standard uncertainties count. */
function infraredOf({ infrared }: ReadToFactors, source: string): HazardInput['infrared'] {
  const found = infrared.find((one) => one.source === source && one.infrared_fraction !== null);
  if (found === undefined) return null;
  const { infrared_fraction: part, infrared_fraction_standard_uncertainty: u } = found;
  return { mostFraction: Math.min(1, Math.max(0, (part ?? 1) + 2 * (u ?? 0))), why: found.why };
}

/** A maker's value is a claim about a new source, no measurement of this one. */
function measuredElsewhere(study: Study, source: string): readonly MeasuredElsewhere[] {
  return study.opinions.flatMap((opinion) => {
    const { kind, value_mW } = opinion;
    if (opinion.source !== source || kind === 'maker') return [];
    return [{ kind, value_mW, standardUncertainty_mW: statedUncertainty(opinion) }];
  });
}

function worst(analyses: readonly SeriesAnalysis[], meter: MeterRole): number | null {
  const values = analyses.flatMap(({ result }) => result.repeatability[meter] ?? []);
  return values.length === 0 ? null : extremes(values)[1];
}

/** The classes are those of continuous light: who has not said so is told. */
function emissionWarnings(study: Study): Warning[] {
  const open = study.sources.filter(({ emission }) => emission === null || emission === 'unknown');
  if (open.length === 0) return [];
  return [
    {
      code: 'emission-not-stated',
      message: `Whether ${open.map(({ name }) => name).join(', ')} emit${open.length === 1 ? 's' : ''} continuously is not stated (emission in study.json); the classes hold for continuous light only. A pulsed or modulated laser may be far more hazardous than its mean power.`,
    },
  ];
}
