/** What the traces and the stated time constants say about settling and lag, per source. */

import type { SettlingState } from '../budget/index.js';
import {
  combineTimeConstants,
  fitStepResponse,
  lagDroop,
  meanDrift,
  missingFraction,
  type StepResponse,
  timeToSettle,
} from '../settle/index.js';
import { percent, significant } from '../statistics/digits.js';
import type { MeterRole, Study, Warning } from '../vocabulary.js';

export interface SettlingOfSource {
  /** Multiply K by this to take lag and settling out; 1 where nothing is known. */
  readonly multiplier: number;
  readonly state: SettlingState;
}

export interface SettlingAnalysis {
  /** What a reading at the reading time still lacks, as a fraction; 0 where it is not known. */
  readonly missing: { readonly reference: number; readonly candidate: number };
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
  warnings.push(...earlyWarnings(study, constants));
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
  const { reference, candidate } = constants;
  const missing = unsettledAt(study.protocol.read_at_s, reference, candidate)?.missing;
  return { bySource, missing: missing ?? { reference: 0, candidate: 0 }, warnings };
}

/** A reading time is kept to ± 1 s by hand and eye (common practice, no source). */
const TIMING_S = 1;
/** Part of a reading that may still be missing without a word. */
const SETTLED = 0.01;

interface Unsettled {
  /** ln of what K has to be multiplied by. */
  readonly logMultiplier: number;
  readonly standardUncertainty: number;
  readonly missing: { readonly reference: number; readonly candidate: number };
}

/** What both readings still lack at the reading time, and how well that is known. */
function unsettledAt(
  readAt: number | null,
  reference: TimeConstant | null,
  candidate: TimeConstant | null,
): Unsettled | null {
  if (readAt === null || reference === null || candidate === null) return null;
  const part = ({ value_s: tau, standard_uncertainty_s: u }: TimeConstant) => {
    const missing = missingFraction(readAt, tau);
    const byTau = ((missing * readAt) / tau ** 2) * u;
    const byTime = (missing / tau) * (TIMING_S / Math.sqrt(3));
    return { missing, u: Math.hypot(byTau, byTime) / (1 - missing) };
  };
  const r = part(reference);
  const c = part(candidate);
  return {
    logMultiplier: Math.log1p(-c.missing) - Math.log1p(-r.missing),
    standardUncertainty: Math.hypot(r.u, c.u),
    missing: { reference: r.missing, candidate: c.missing },
  };
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
  const unsettled = unsettledAt(readAt, reference, candidate);
  const drift = meanDrift(fits);
  const settled = Math.exp(unsettled?.logMultiplier ?? 0);
  const unsettledU = unsettled?.standardUncertainty ?? null;
  if (drift === null) {
    const note =
      unsettled === null
        ? 'settling and lag of the sensors: time constants or reading time not known (traces would tell)'
        : '';
    return {
      settling: { multiplier: settled, state: { lag: null, unsettled: unsettledU, note } },
      warning: null,
    };
  }
  const lag = lagDroop({
    relative_droop_per_s: -drift.value,
    relative_droop_standard_uncertainty_per_s: drift.standard_uncertainty,
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
      multiplier: lag.factor_multiplier * settled,
      state: {
        lag: lag.relative_standard_uncertainty,
        unsettled: unsettledU,
        note: lag.why,
      },
    },
    warning: lag.status === 'bounded' ? lag.why : null,
  };
}

/** A meter read too early: by how much, and how long to wait. */
function earlyWarnings(
  study: Study,
  constants: { readonly reference: TimeConstant | null; readonly candidate: TimeConstant | null },
): Warning[] {
  const readAt = study.protocol.read_at_s;
  if (readAt === null) return [];
  return (['reference', 'candidate'] as const).flatMap((meter) => {
    const constant = constants[meter];
    if (constant === null) return [];
    const missing = missingFraction(readAt, constant.value_s);
    if (missing <= SETTLED) return [];
    const wait = timeToSettle(SETTLED, constant.value_s);
    return [
      {
        code: 'read-too-early',
        message: `The ${meter} (time constant ${significant(constant.value_s, 2)} s) still lacks ${percent(missing)} at the reading time of ${readAt} s. The factor is corrected for that and holds for settled readings: wait ${Math.ceil(wait)} s for 1 %.`,
      },
    ];
  });
}
