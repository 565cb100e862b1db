/** What the traces and the stated time constants say about settling and lag, per source. */
import type { SettlingState } from './budget/index.js';
import {
  combineTimeConstants,
  fitStepResponse,
  lagDroop,
  missingFraction,
  type StepResponse,
} from './settle/index.js';
import type { MeterRole, Study, Warning } from './vocabulary.js';

export interface SettlingOfSource {
  /** Multiply ln-scale factors' K by this to take the lag out; 1 where nothing is known. */
  readonly multiplier: number;
  readonly state: SettlingState;
}

export interface SettlingAnalysis {
  readonly bySource: ReadonlyMap<string, SettlingOfSource>;
  readonly warnings: readonly Warning[];
}

interface TimeConstant {
  readonly value_s: number;
  readonly standard_uncertainty_s: number;
}

/**
 * Time constants come from the traces (mean over a meter's traces) or, without any, from what the
 * study states. The droop of a source while it is on comes from the same traces.
 */
export function analyseSettling(study: Study): SettlingAnalysis {
  const fits = study.traces.map((trace) => ({
    trace,
    fit: fitStepResponse(trace, { onset_s: 'fitted', drift: true }),
  }));
  const warnings: Warning[] = [];
  for (const { trace, fit } of fits) {
    if (fit.status === 'refused') {
      warnings.push({
        code: 'trace-not-used',
        message: `The trace of run ${trace.run} (${trace.meter}) gave no time constant: ${fit.why}`,
        series: trace.series,
      });
    }
  }
  const constant = (meter: MeterRole): TimeConstant | null => {
    const own = fits.filter(({ trace }) => trace.meter === meter).map(({ fit }) => fit);
    const combined = combineTimeConstants(own);
    if (combined.value_s !== null) {
      return {
        value_s: combined.value_s,
        standard_uncertainty_s: combined.standard_uncertainty_s ?? 0,
      };
    }
    const stated = study[meter].time_constant_s;
    return stated === null ? null : { value_s: stated, standard_uncertainty_s: 0 };
  };
  const constants = { reference: constant('reference'), candidate: constant('candidate') };
  const sourceOf = new Map(study.series.map((series) => [series.id, series.source]));
  const bySource = new Map<string, SettlingOfSource>();
  for (const source of study.sources) {
    const own = fits
      .filter(({ trace }) => sourceOf.get(trace.series) === source.name)
      .map(({ fit }) => fit);
    const one = settlingOf(own, constants, study.protocol.read_at_s);
    bySource.set(source.name, one.settling);
    if (one.warning !== null) {
      warnings.push({ code: 'lag-bounded', message: `${source.name}: ${one.warning}` });
    }
  }
  return { bySource, warnings };
}

function settlingOf(
  fits: readonly StepResponse[],
  constants: {
    readonly reference: TimeConstant | null;
    readonly candidate: TimeConstant | null;
  },
  readAt: number | null,
): { readonly settling: SettlingOfSource; readonly warning: string | null } {
  const { reference, candidate } = constants;
  const unsettled =
    readAt === null || reference === null || candidate === null
      ? null
      : missingFraction(readAt, candidate.value_s) - missingFraction(readAt, reference.value_s);
  const drifts = fits.flatMap((fit) =>
    fit.status === 'fitted' && fit.relative_drift_per_s !== null ? [fit.relative_drift_per_s] : [],
  );
  if (drifts.length === 0) {
    const note =
      unsettled === null
        ? 'settling and lag of the sensors: time constants or reading time not known (traces would tell)'
        : '';
    return { settling: { multiplier: 1, state: { lag: null, unsettled, note } }, warning: null };
  }
  const mean = drifts.reduce((sum, drift) => sum + drift.value, 0) / drifts.length;
  const u = Math.hypot(...drifts.map((drift) => drift.standard_uncertainty)) / drifts.length;
  const lag = lagDroop({
    relative_droop_per_s: -mean,
    relative_droop_standard_uncertainty_per_s: u,
    time_constant_reference_s: reference?.value_s ?? null,
    time_constant_candidate_s: candidate?.value_s ?? null,
    ...(reference === null
      ? {}
      : { time_constant_reference_standard_uncertainty_s: reference.standard_uncertainty_s }),
    ...(candidate === null
      ? {}
      : { time_constant_candidate_standard_uncertainty_s: candidate.standard_uncertainty_s }),
  });
  return {
    settling: {
      multiplier: lag.factor_multiplier,
      state: { lag: lag.relative_standard_uncertainty, unsettled, note: lag.why },
    },
    warning: lag.status === 'bounded' ? lag.why : null,
  };
}
