import { runsOn } from '../record/meters.js';
import { isWhole } from '../record/slips/typedNumber.js';
import type { Meter, MeterRole, Study } from '../vocabulary.js';

export interface DisplayStep {
  /** One step of the display in mW; `null` when neither stated nor to be seen in the digits. */
  readonly step_mW: number | null;
  readonly stated: boolean;
}

/** Display steps of both meters in mW; `null` where not known. */
export type Steps = Readonly<Record<MeterRole, number | null>>;

/**
 * The step of a meter's display: stated in the study, or else the coarsest of 1, 0.1, 0.01 … mW
 * that all its recorded readings are whole multiples of. A step read off the digits can only be as
 * fine as somebody wrote them down; the result carries a warning. The study is the one as read: a
 * reading that was brought to another kind no longer is a multiple of a step.
 */
export function displayStep(meter: Meter, study: Pick<Study, 'series'>): DisplayStep {
  if (meter.resolution_mW !== null) return { step_mW: meter.resolution_mW, stated: true };
  const shown = study.series.flatMap((series) =>
    runsOn(series.runs, meter.role).map((run) => run.reading_mW + (run.zero_mW ?? 0)),
  );
  if (shown.length === 0) return { step_mW: null, stated: false };
  for (let digits = 0; digits <= 6; digits++) {
    const scale = 10 ** digits;
    if (shown.every((x) => isWhole(x * scale))) {
      return { step_mW: 1 / scale, stated: false };
    }
  }
  return { step_mW: null, stated: false };
}
