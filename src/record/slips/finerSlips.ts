/** Readings that a display of the stated step cannot have shown, through a whole series. */
import { extremes } from '../../statistics/summary.js';
import type { MeterRole, Series, Study, Warning } from '../../vocabulary.js';
import { METERS, runsOn } from '../meters.js';
import { finerBy, shownIn } from './finerThanDisplay.js';
import { movePoint } from './typedNumber.js';
import type { WholeSlip } from './wholeSeries.js';

/** W typed as mW. */
const UNIT = 3;

/** Each meter of each series by itself, where another unit explains it. */
export function finerSlips(study: Study): WholeSlip[] {
  return finer(study).flatMap(({ series, meter, isUnit }): WholeSlip[] =>
    isUnit
      ? [
          {
            series,
            kind: 'unit',
            meter,
            move: UNIT,
            or: [],
            step_mW: study[meter].resolution_mW,
          },
        ]
      : [],
  );
}

/** Each meter once, where another unit does not: means, a display that changes its range, a wrong step. */
export function finerWarnings(study: Study): Warning[] {
  const all = finer(study).filter(({ isUnit }) => !isUnit);
  return METERS.flatMap((meter) => {
    const [first] = all.filter((one) => one.meter === meter);
    if (first === undefined) return [];
    const step = study[meter].resolution_mW;
    return [
      {
        code: 'finer-than-step',
        message: `Readings of the ${meter} are finer than its stated step: ${first.example} mW at a step of ${step} mW (resolution_mW). For means, or a display that changes its range, U and the hazard only hold more than they need; else the step, or the unit of the readings, is wrong.`,
      },
    ];
  });
}

interface Finer {
  readonly series: Series;
  readonly meter: MeterRole;
  readonly example: number;
  /** Whether readings in W of a display in mW would be as much finer. */
  readonly isUnit: boolean;
}

function finer(study: Study): readonly Finer[] {
  return study.series.flatMap((series) =>
    METERS.flatMap((meter): Finer[] => {
      const by = finerBy(study, series, meter);
      if (by === 0 || runsOn(series.runs, meter).some((run) => run.checked)) return [];
      const shown = shownIn(series, meter);
      const inW = movePoint(extremes(shown)[1], UNIT);
      const isUnit = by === UNIT && inW <= (study[meter].rated_max_mW ?? Infinity);
      return [{ series, meter, example: shown[0]!, isUnit }];
    }),
  );
}
