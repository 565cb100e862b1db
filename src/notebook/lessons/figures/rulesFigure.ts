import type { Figure } from '../../../figures/figure.js';
import { uprightLine } from '../../../figures/shapes.js';
import { PROMISED } from '../counts.js';
import type { RuleCoverage } from '../leaveOut.js';
import { ofHundred } from '../told.js';
import { rowsFigure } from './rowsFigure.js';

/** Share of intervals that hold the truth, a row a rule, a mark for each kind of day. */
export function rulesFigure(days: readonly RuleCoverage[]): Figure {
  const all = days.flatMap((day) => day.rules.map(({ coverage }) => coverage.fraction));
  const lowest = Math.min(PROMISED, ...all);
  return rowsFigure({
    title: 'What leaving laps out does to the promise',
    alt: days
      .map(
        (day) =>
          `${day.name}: ${day.rules.map(({ name, coverage }) => `${name} ${ofHundred(coverage)}`).join(', ')} of 100.`,
      )
      .join(' '),
    rows: days[0]?.rules.map((one) => one.name) ?? [],
    marks: days.map((day) => ({
      name: day.name,
      x: day.rules.map(({ coverage }) => 100 * coverage.fraction),
      bars: day.rules.map(({ coverage: { fraction, standardUncertainty: u } }) => [
        100 * (fraction - 2 * u),
        100 * (fraction + 2 * u),
      ]),
      hover: day.rules.map(
        ({ name, coverage }) => `${name}: ${coverage.held} of ${coverage.times}`,
      ),
    })),
    x: [
      'intervals that hold the truth / %',
      { range: [Math.max(0, Math.floor(20 * lowest - 0.5) * 5), 101] },
    ],
    line: uprightLine(100 * PROMISED, {
      width: 2,
      dash: 'dot',
      name: `promised: ${100 * PROMISED} %`,
    }),
  });
}
