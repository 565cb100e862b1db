/** Which of bias and spread are shown to change with the level, and what else may look like it. */

import { coverageFactor } from '../statistics/distributions.js';
import { leastSquares } from '../statistics/leastSquares.js';
import { sentences } from '../statistics/sentences.js';
import { type LevelChange, POWERS_APART } from '../vocabulary.js';
import type { LevelLine } from './proportionalBias.js';
import { type SeriesAgainstLevel, slopeOfNoise } from './seriesAgainstLevel.js';

/** Fewer series show no trend of their spread, and a line through it would be anybody's guess. */
const LEAST_FOR_SPREAD = 8;

export interface LevelChanges {
  readonly bias_change: LevelChange;
  readonly spread_change: LevelChange;
  readonly why: string;
}

/**
 * A bias changes when its slope is beyond what unequally noisy meters make. With several wavelengths the
 * slope has to stand within wavelengths too; for the spread that cannot be told.
 *
 * @param colours wavelength of each series
 */
export function levelChanges(found: SeriesAgainstLevel, colours: readonly number[]): LevelChanges {
  const { lines } = found;
  const several = new Set(colours).size > 1;
  const enough = lines.n >= LEAST_FOR_SPREAD;
  const spread = enough && beyond(lines.spread, 0, found);
  // Where colours differ along with the level, a spread that changes may be theirs: no weights then.
  const line = spread && !several ? (found.weighted?.bias ?? lines.bias) : lines.bias;
  const bias = beyond(line, found.slope_of_noise, found);
  const inside = several ? withinColours(found, colours) : null;
  const agreeing = inside?.shown === true && inside.slope * lines.bias.slope > 0;
  return {
    bias_change: !bias ? 'not-shown' : several && !agreeing ? 'confounded' : 'shown',
    spread_change: !enough
      ? 'not-computable'
      : !spread
        ? 'not-shown'
        : several
          ? 'confounded'
          : 'shown',
    why: sentences([
      `Judged by ${lines.n} series: a change that they do not show is not excluded.`,
      enough ? '' : `Whether the spread changes would need ${LEAST_FOR_SPREAD} series.`,
      !bias && clearSlope(line, 0)
        ? 'The slope of the bias is no steeper than a noisier meter makes without any bias.'
        : '',
      several ? colourWords(bias, inside) : '',
    ]),
  };
}

/** Also larger than what rounding leaves of a slope of zero. */
function beyond(line: LevelLine, noise: number, { lines }: SeriesAgainstLevel): boolean {
  const [low, high] = lines.range;
  const change = Math.abs(line.slope) * (high - low);
  return clearSlope(line, noise) && change > 1e-9 * (lines.scale === 'log' ? 1 : high);
}

function clearSlope(line: LevelLine, noise: number): boolean {
  const [low, high] = line.slope_interval;
  return low > noise || high < -noise;
}

interface WithinColours {
  readonly slope: number;
  readonly shown: boolean;
}

/** One slope for all wavelengths, each with a mean of its own; `null` where too few series tell. */
function withinColours(
  found: SeriesAgainstLevel,
  colours: readonly number[],
): WithinColours | null {
  const { levels, differences, lines } = found;
  const groups = [...new Set(colours)];
  const dof = levels.length - groups.length - 1;
  const back = (level: number) => (lines.scale === 'log' ? Math.exp(level) : level);
  const wide = groups.some((nm) => {
    const own = levels.filter((_, i) => colours[i] === nm).map(back);
    return Math.max(...own) >= POWERS_APART * Math.min(...own);
  });
  if (dof < 1 || !wide) return null;
  const centred = (values: readonly number[]) =>
    values.map((value, i) => {
      const own = values.filter((_, j) => colours[j] === colours[i]);
      return value - own.reduce((sum, one) => sum + one, 0) / own.length;
    });
  const x = centred(levels);
  const squares = x.reduce((sum, value) => sum + value ** 2, 0);
  const fit = leastSquares(
    x.map((value) => [value]),
    centred(differences),
  );
  const [slope] = fit.coefficients;
  const residual = fit.residualSumOfSquares / dof;
  const half = coverageFactor(lines.confidence, dof) * Math.sqrt(residual / squares);
  const noise = slopeOfNoise(residual, squares / (dof + 1));
  return { slope, shown: Math.abs(slope) - half > noise };
}

function colourWords(bias: boolean, inside: WithinColours | null): string {
  const mixed = 'The series differ in wavelength as well as in power';
  if (!bias) {
    return inside?.shown === true
      ? `${mixed}, and within wavelengths the difference does change with the power: see what is said of the factor and the power.`
      : `${mixed}, which can also hide a change.`;
  }
  if (inside === null) {
    return `${mixed}, and no wavelength was measured at enough powers to tell one from the other.`;
  }
  return inside.shown
    ? `${mixed}; within wavelengths the difference changes too.`
    : `${mixed}, and within wavelengths no change is shown: the slope may be one of colour.`;
}
