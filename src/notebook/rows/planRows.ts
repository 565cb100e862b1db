import type { NamedPlan } from '../../figures/planFigure.js';
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { planComparison } from '../../plan/planComparison.js';
import { residualBias } from '../../plan/residualBias.js';
import type { RunOrder } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/**
 * The smallest design for each plan and each wanted uncertainty of a corrected reading.
 *
 * @param options.wanted relative expanded uncertainties, as fractions
 * @throws argument-wrong as `planComparison`
 */
export function designRows(options: {
  readonly plans: readonly NamedPlan[];
  readonly wanted: readonly number[];
}): readonly TableRow[] {
  return options.plans.flatMap(({ name, plan }) =>
    options.wanted.map((wanted) => {
      const { design, outlook, certificate_U } = planComparison({ ...plan, wanted });
      return {
        Bench: name,
        'Wanted in %': formatRelative(wanted),
        'Series × laps': design === null ? 'none' : `${design.series} × ${design.laps}`,
        'Kept in % of comparisons': String(Math.floor(100 * outlook.probability)),
        'Corrected reading in %': formatRelative(outlook.reading_U),
        'K in %': formatRelative(outlook.factor_U),
        'Certificate alone in %':
          certificate_U === null ? 'not stated' : formatRelative(certificate_U),
      };
    }),
  );
}

/**
 * What each order of runs leaves of a drift in the plain mean of candidate minus reference.
 *
 * @param options.percent_per_run steady drift of the source, percent a run; negative: it falls
 * @throws argument-wrong as `residualBias`
 */
export function orderRows(options: {
  readonly orders: readonly RunOrder[];
  readonly laps: number;
  readonly percent_per_run: number;
}): readonly TableRow[] {
  const { orders, laps, percent_per_run } = options;
  return orders.map((order) => {
    const { linear, quadratic } = residualBias(order, laps);
    return {
      Order: order,
      Laps: laps,
      'Of a steady drift, steps left': fractionText(linear),
      'Of a curving drift, steps² left': fractionText(quadratic),
      [`Left of ${formatNumber(percent_per_run)} % a run, in %`]: formatNumber(
        linear.value * percent_per_run,
        { digits: 3 },
      ),
    };
  });
}

function fractionText(one: { readonly numerator: number; readonly denominator: number }): string {
  const top = one.numerator < 0 ? `−${-one.numerator}` : String(one.numerator);
  return one.denominator === 1 ? top : `${top}/${one.denominator}`;
}
