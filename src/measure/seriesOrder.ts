import { RUN_ORDERS, runOrder } from '../plan/runOrder.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';

/** The order that rows follow: the stated one, else the first that fits them, else the plain one. */
export function orderOf(meters: readonly MeterRole[], stated: RunOrder | null): RunOrder {
  if (stated !== null) return stated;
  const laps = Math.ceil(meters.length / 2);
  const fits = (order: RunOrder) =>
    laps > 0 && meters.every((meter, i) => runOrder(order, laps)[i] === meter);
  return RUN_ORDERS.find(fits) ?? 'reference-first';
}
