import type { Figure } from '../../../figures/figure.js';
import { uprightLine } from '../../../figures/shapes.js';
import { formatInterval } from '../../../findings/formatNumber.js';
import { errorsOf } from '../counts.js';
import type { Estimate } from '../estimates.js';
import { told } from '../told.js';
import { rowsFigure } from './rowsFigure.js';

/** Estimates of one factor under one name, by one or more ways of computing it. */
export interface EstimateGroup {
  readonly name: string;
  readonly ways: readonly { readonly name: string; readonly estimates: readonly Estimate[] }[];
}

/**
 * How far from the truth do estimates land? A row a group, in it a mark for each way: the mean
 * error, a thick bar for the middle half of all, a thin one for the middle 95 %.
 *
 * @param truth the factor that the bench hides
 */
export function errorsFigure(groups: readonly EstimateGroup[], truth: number): Figure {
  const ways = (groups[0]?.ways ?? []).map(({ name }, place) => ({
    name,
    errors: groups.map((group) => errorsOf(group.ways[place]?.estimates ?? [], truth)),
  }));
  return rowsFigure({
    title: 'How far from the truth estimates land',
    alt: ways
      .flatMap(({ name, errors }) =>
        errors.map(
          (one, row) =>
            `${groups[row]?.name}, ${name}: mean error ${told(one.mean, one.standardError)} %, middle 95 % ${formatInterval(...one.most)} %.`,
        ),
      )
      .join(' '),
    rows: groups.map((group) => group.name),
    marks: ways.map(({ name, errors }) => ({
      name,
      x: errors.map((one) => one.mean),
      bars: errors.map((one) => one.most),
      thick: errors.map((one) => one.middleHalf),
      hover: errors.map((one) => `mean ${told(one.mean, one.standardError)} %`),
    })),
    x: ['K off the truth / %'],
    line: uprightLine(0, { width: 1.6, dash: 'dot', name: 'the truth; bars: 95 and 50 of 100' }),
  });
}
