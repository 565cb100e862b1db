import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import type { TableRow } from '../tableHtml.js';
import { coverageOf } from './coverageOf.js';
import { ofHundred } from './coverageRows.js';
import type { EstimateGroup } from './errorsFigure.js';
import { errorsOf } from './errorsOf.js';

/** Mean error, half-width and coverage of each way of computing in each group. */
export function errorRows(groups: readonly EstimateGroup[], truth: number): readonly TableRow[] {
  return groups.flatMap(({ name, ways }) =>
    ways.map((way) => {
      const coverage = coverageOf(way.estimates, truth);
      return {
        Order: name,
        Computed: way.name,
        'Mean error in %': formatNumber(errorsOf(way.estimates, truth).mean, { digits: 2 }),
        'Half-width in %': formatRelative(coverage.halfWidth),
        'Hold the truth, of 100': ofHundred(coverage),
      };
    }),
  );
}
