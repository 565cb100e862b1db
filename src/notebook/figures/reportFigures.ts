import type { Result, Study } from '../../vocabulary.js';
import { agreementFigure } from './agreementFigure.js';
import { beforeAfterFigure } from './beforeAfterFigure.js';
import { budgetFigure } from './budgetFigure.js';
import { factorsFigure } from './factorsFigure.js';
import type { Figure } from './figure.js';
import { runsFigure } from './runsFigure.js';

/** What fits on a printed page. */
const SERIES_A_PAGE = 4;
const BARS_A_PAGE = 18;

/** The figures of a report; long ones in parts that fit on a page. */
export interface ReportFigureSet {
  readonly runs: readonly Figure[];
  readonly agreement: Figure;
  readonly factors: Figure;
  readonly budget: readonly Figure[];
  readonly beforeAfter: Figure;
}

/** All figures that the report page takes. */
export function reportFigures(study: Study, result: Result): ReportFigureSet {
  return {
    runs: chunks(
      study.series.map((one) => one.id),
      () => 1,
      SERIES_A_PAGE,
    ).map((part) => runsFigure(study, result, part)),
    agreement: agreementFigure(study, result),
    factors: factorsFigure(study, result),
    budget: chunks(
      result.wavelengths.filter((one) => one.budget.length > 0),
      (one) => one.budget.length + 2,
      BARS_A_PAGE,
    ).map((part) =>
      budgetFigure(
        result,
        part.map((one) => one.wavelength_nm),
      ),
    ),
    beforeAfter: beforeAfterFigure(study, result),
  };
}

/** Splits a list where the sizes would add up to more than `most`. */
function chunks<T>(list: readonly T[], size: (one: T) => number, most: number): T[][] {
  const parts: T[][] = [];
  let filled = 0;
  for (const one of list) {
    const last = parts.at(-1);
    if (last === undefined || filled + size(one) > most) {
      parts.push([one]);
      filled = size(one);
    } else {
      last.push(one);
      filled += size(one);
    }
  }
  return parts;
}
