import type { Result, Study } from '../vocabulary.js';
import { agreementFigure } from './agreementFigure.js';
import { beforeAfterFigure } from './beforeAfterFigure.js';
import { budgetFigure } from './budgetFigure.js';
import { budgeted } from './budgetParts.js';
import { factorsFigure } from './factorsFigure.js';
import { type Figure, readable } from './figure.js';
import { hazardFigure } from './hazardFigure.js';
import { lapRatios } from './lapRatios.js';
import { lapPoints } from './laps.js';
import { lapsFigure } from './lapsFigure.js';
import { leftOutFigure } from './leftOutFigure.js';
import { opinionFigure } from './opinionFigure.js';
import { opinionPanels } from './opinionPoints.js';
import { powerFigure } from './powerFigure.js';
import { reChecksFigure } from './reChecksFigure.js';
import { runsFigure } from './runsFigure.js';
import { traceFigure } from './traceFigure.js';

/** A figure with the name under which it is placed and kept as a file. */
export interface ListedFigure {
  /** In lower case with hyphens; the same for the same figure of every study. */
  readonly id: string;
  readonly title: string;
  /** What is seen, in words: text, to be escaped for the page that takes it. */
  readonly alt: string;
  readonly figure: Figure;
  /** px; the width follows the page. */
  readonly height: number;
}

/** The figures that carry a report, each with its question. */
export type ReportFigureId = 'before-after' | 'hazard' | 'budget' | 'laps' | 'power' | 'left-out';

/**
 * The figures that carry a report, in its order: the answer, the hazard, the uncertainty, the
 * evidence. A figure that has nothing to show is not in the list.
 */
export function reportFigures(study: Study, result: Result): readonly ListedFigure[] {
  const list: readonly (readonly [ReportFigureId, boolean, () => Figure])[] = [
    [
      'before-after',
      result.wavelengths.some((one) => one.factor !== null),
      () => beforeAfterFigure(study, result),
    ],
    ['hazard', result.hazard.length > 0, () => hazardFigure(result)],
    ['budget', budgeted(result).length > 0, () => budgetFigure(result)],
    ['laps', lapRatios(study, result).length > 0, () => lapsFigure(study, result)],
    ['power', lapPoints(study, result).length > 0, () => powerFigure(study, result)],
    [
      'left-out',
      result.series.some((one) => one.exclusion_effects.length > 0),
      () => leftOutFigure(result),
    ],
  ];
  return list.flatMap(([id, hasSomething, draw]) => (hasSomething ? [listed(id, draw())] : []));
}

/** What fits on a printed page. */
const SERIES_A_PAGE = 4;

/**
 * What a reviewer asks for beside the report: the runs in parts that fit on a page, factors against
 * wavelength, differences against level, values from elsewhere, traces, one chart of re-checks a
 * wavelength. A figure that has nothing to show is not in the list.
 */
export function appendixFigures(study: Study, result: Result): readonly ListedFigure[] {
  const ids = study.series.map((one) => one.id);
  const charts = (result.re_checks ?? []).filter((one) => one.limits !== null);
  return [
    ...chunks(ids, SERIES_A_PAGE).map((part, i) =>
      listed(`runs-${i + 1}`, runsFigure(study, result, part)),
    ),
    listed('factors', factorsFigure(study, result)),
    listed('agreement', agreementFigure(study, result)),
    ...(opinionPanels(result).length > 0 ? [listed('opinions', opinionFigure(result))] : []),
    ...(study.traces.length > 0 ? [listed('traces', traceFigure(study))] : []),
    ...charts.map((one) =>
      listed(
        `re-checks-${one.wavelength_nm}`,
        reChecksFigure(one, { confidence: result.confidence }),
      ),
    ),
  ];
}

function listed(id: string, figure: Figure): ListedFigure {
  const { title, alt, layout } = figure;
  return { id, title, alt: readable(alt), figure, height: layout.height ?? 0 };
}

function chunks<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, i) =>
    list.slice(i * size, (i + 1) * size),
  );
}
