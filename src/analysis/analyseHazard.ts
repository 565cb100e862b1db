/** Hazard class of every source against its label, from all that was ever read of it. */

import { type HazardReading, judgeHazard, type MeasuredElsewhere } from '../decide/index.js';
import type { HazardResult, MeterRole, Study, Warning, WavelengthResult } from '../vocabulary.js';
import type { SeriesAnalysis } from './analyseSeries.js';
import type { SettlingAnalysis } from './analyseSettling.js';
import { statedUncertainty } from './compareWithOpinion.js';

/**
 * Judges every source by all of its runs: those that the calibration left out, cold starts and the
 * runs under two settings included.
 */
export function analyseHazard(
  study: Study,
  series: readonly SeriesAnalysis[],
  wavelengths: readonly WavelengthResult[],
  settling: SettlingAnalysis,
): { readonly results: readonly HazardResult[]; readonly warnings: readonly Warning[] } {
  const judged = study.sources.map((source) => {
    const own = study.series.filter((one) => one.source === source.name);
    const analyses = series.filter(({ result }) => result.source === source.name);
    const nm = own[0]?.wavelength_nm ?? source.wavelength_nm;
    const at = wavelengths.find((one) => one.wavelength_nm === nm);
    const factor =
      at === undefined || at.factor === null || at.low === null || at.high === null
        ? null
        : { value: at.factor, low: at.low, high: at.high };
    return judgeHazard({
      source: { ...source, wavelength_nm: nm },
      readings: own.flatMap((one) => {
        const excluded = new Set(
          analyses
            .find(({ result }) => result.id === one.id)
            ?.result.excluded.map((exclusion) => exclusion.run) ?? [],
        );
        return one.runs.map(
          (run): HazardReading => ({
            meter: run.meter,
            // A reading taken before the sensor had settled is too low.
            reading_mW: run.reading_mW / (1 - settling.missing[run.meter]),
            peak_mW: run.peak_mW,
            place: `series "${one.id}", run ${run.run}`,
            excluded: excluded.has(run.run),
          }),
        );
      }),
      reference: study.reference,
      candidate: study.candidate,
      factor,
      confidence: study.confidence,
      elsewhere: measuredElsewhere(study, source.name),
      infraredSeparated: false,
      repeatability: {
        reference: worst(analyses, 'reference'),
        candidate: worst(analyses, 'candidate'),
      },
    });
  });
  return {
    results: judged.map((one) => one.hazard),
    warnings: judged.flatMap((one) => one.warnings),
  };
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
  return values.length === 0 ? null : Math.max(...values);
}
