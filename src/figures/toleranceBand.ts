import type { Shape } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import { INK, TOLERANCE_BAND } from './figure.js';
import { uprightBand } from './shapes.js';

/** How what lies within the tolerance looks, in percent, with its name in the legend. */
export const toleranceStyle = (percent: number) => ({
  fill: TOLERANCE_BAND,
  edge: { width: 1, color: INK, dash: 'dot' as const },
  name: `tolerance, ± ${formatNumber(percent)} %`,
});

/** The same as a band over the height, on an axis in percent. */
export function toleranceBand(percent: number): Partial<Shape> {
  return uprightBand([-percent, percent], toleranceStyle(percent));
}
