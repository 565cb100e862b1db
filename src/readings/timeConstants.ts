/** How fast each sensor settles: from its traces, or as the study states it. */

import { significant } from '../findings/formatNumber.js';
import { eachMeter, METERS } from '../record/meters.js';
import { combineTimeConstants } from '../settle/combineTimeConstants.js';
import type { StepResponse } from '../settle/stepResponse.js';
import {
  KNOWN_EXACTLY,
  type MeterRole,
  type Study,
  type Trace,
  type Warning,
} from '../vocabulary.js';

export interface TimeConstant {
  readonly value_s: number;
  readonly standard_uncertainty_s: number;
  readonly dof: number;
}

/** Of both meters; `null` where neither a trace nor the study tells. */
export type TimeConstants = Readonly<Record<MeterRole, TimeConstant | null>>;

export interface FittedTrace {
  readonly trace: Trace;
  readonly fit: StepResponse;
}

/** A stated time constant this many times the measured one, or a part of it, is said aloud. */
const DIFFERS = 1.5;

/** Mean over a meter's traces; without any that tells, what the study states. */
export function timeConstants(study: Study, fits: readonly FittedTrace[]): TimeConstants {
  return eachMeter((meter) => {
    const stated = study[meter].time_constant_s;
    const { value_s, standard_uncertainty_s, dof } = measured(meter, fits);
    if (value_s !== null) {
      return {
        value_s,
        standard_uncertainty_s: standard_uncertainty_s ?? 0,
        dof: dof ?? KNOWN_EXACTLY,
      };
    }
    return stated === null
      ? null
      : { value_s: stated, standard_uncertainty_s: 0, dof: KNOWN_EXACTLY };
  });
}

const measured = (meter: MeterRole, fits: readonly FittedTrace[]) =>
  combineTimeConstants(fits.filter(({ trace }) => trace.meter === meter).map(({ fit }) => fit));

/** Traces that tell no time constant, and stated time constants that the traces contradict. */
export function timeConstantWarnings(study: Study, fits: readonly FittedTrace[]): Warning[] {
  const refused = fits.flatMap(({ trace, fit }) =>
    fit.status === 'fitted'
      ? []
      : [
          {
            code: 'trace-not-used',
            message: `The trace of run ${trace.run} (${trace.meter}) gave no time constant: ${fit.why}`,
            series: trace.series,
          },
        ],
  );
  const contradicted = METERS.flatMap((meter) => {
    const stated = study[meter].time_constant_s;
    const { value_s } = measured(meter, fits);
    if (stated === null || value_s === null) return [];
    if (Math.max(stated / value_s, value_s / stated) < DIFFERS) return [];
    return [
      {
        code: 'time-constant-contradicted',
        message: `The traces show a time constant of ${significant(value_s, 2)} s for the ${meter}, and study.json states ${significant(stated, 2)} s. The traces count; find out what is wrong.`,
      },
    ];
  });
  return [...refused, ...contradicted];
}
