import type { Result, Study } from '../vocabulary.js';
import { agreementFigure } from './agreementFigure.js';
import { beforeAfterFigure } from './beforeAfterFigure.js';
import { factorsFigure } from './factorsFigure.js';
import type { Figure } from './figure.js';
import { reChecksFigure } from './reChecksFigure.js';
import { runsFigure } from './runsFigure.js';

/** Where a figure stands: beside the answer, in a section of the report, or in the appendix. */
export type FigurePlace = 'answer' | 'hazard' | 'budget' | 'evidence' | 'appendix';

/** A figure with its place and what its marks mean. */
export interface PlacedFigure {
  readonly place: FigurePlace;
  readonly figure: Figure;
  readonly caption: string;
}

/** What fits on a printed page. */
const SERIES_A_PAGE = 4;

/** The one list of figures that report and appendix take, in the order in which they stand. */
export function reportFigures(study: Study, result: Result): readonly PlacedFigure[] {
  return [
    {
      place: 'answer',
      figure: beforeAfterFigure(study, result),
      caption: 'What is inconclusive is not corrected.',
    },
    {
      place: 'evidence',
      figure: factorsFigure(study, result),
      caption:
        'Diamonds: factor with the whole budget. Hollow circles: single series, relative to this reference. Crosses: inconclusive.',
    },
    {
      place: 'evidence',
      figure: agreementFigure(study, result),
      caption:
        'One mark a kept lap, shaped by wavelength. Lines and bars: bias, limits of agreement and their intervals.',
    },
    ...chunks(
      study.series.map((one) => one.id),
      SERIES_A_PAGE,
    ).map((part, i) => ({
      place: 'appendix' as const,
      figure: runsFigure(study, result, part),
      caption:
        i > 0
          ? ''
          : 'Readings in percent above or below the mean of the kept runs of both meters. Circles, solid line: reference. Diamonds, dotted line: candidate. Hollow: left out.',
    })),
    ...(result.re_checks ?? [])
      .filter((one) => one.limits !== null)
      .map((one) => ({
        place: 'appendix' as const,
        figure: reChecksFigure(one, { confidence: result.confidence }),
        caption:
          'One point a study, oldest first. Solid line: centre; dashed: limits from the scatter; shaded: limits from the uncertainties. A hollow square breaks a rule.',
      })),
  ];
}

function chunks<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, i) =>
    list.slice(i * size, (i + 1) * size),
  );
}
