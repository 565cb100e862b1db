// How narrow can any rule be? Two or three series show the spread of placements by their own scatter s
// (1 or 2 degrees of freedom) and by nothing else. Over all half-widths h(s) the narrowest mean where
// placements differ by 1 % is looked for under a wanted coverage of a corrected reading where they
// differ by more: for each s the h that maximises λ·coverage − width (Lagrange), λ by bisection.
//
//   npm run build --silent && node scripts/placement-bound.mjs
import { normalCdf } from '../dist/inside.js';

// As in corrections-study: certificate U = 0.5 % (k = 2), scatter 0.5 % a reading, 8 laps. In percent.
const CERTIFICATE = 0.25;
const NOISE = 0.5;
const LAPS = 8;
const STEP = 0.02;
const SHOWN = Array.from({ length: 1000 }, (_, i) => (i + 0.5) * STEP);
const HALVES = Array.from({ length: 1500 }, (_, i) => i * 0.02);

/** Density of s for n series whose placements differ by `sd`; Gaussian scatter, n − 1 dof. */
function densityOf(sd, n) {
  const variance = sd ** 2 + (2 * NOISE ** 2) / LAPS;
  return n === 2
    ? (s) => Math.sqrt(2 / (Math.PI * variance)) * Math.exp(-(s ** 2) / (2 * variance))
    : (s) => ((2 * s) / variance) * Math.exp(-(s ** 2) / variance);
}

/** Probability that a corrected reading, placed anew, lies within ± h, for each of HALVES. */
function coverageOf(sd, n) {
  const inK = (sd ** 2 + (2 * NOISE ** 2) / LAPS) / n + CERTIFICATE ** 2;
  const u = Math.sqrt(inK + sd ** 2 + NOISE ** 2);
  return HALVES.map((h) => 2 * normalCdf(h / u) - 1);
}

/** Mean width at 1 % and the coverage at `sd` of the rule that is best for λ. */
function best(lambda, sd, n) {
  const usual = densityOf(1, n);
  const other = densityOf(sd, n);
  const within = coverageOf(sd, n);
  let width = 0;
  let coverage = 0;
  for (const s of SHOWN) {
    const [a, b] = [usual(s), other(s)];
    let at = 0;
    let most = -Infinity;
    for (let i = 0; i < HALVES.length; i++) {
      const gain = lambda * b * within[i] - a * HALVES[i];
      if (gain > most) [most, at] = [gain, i];
    }
    width += a * HALVES[at] * STEP;
    coverage += b * within[at] * STEP;
  }
  return { width, coverage };
}

for (const [n, sd, wanted] of [
  [2, 2, 0.92],
  [2, 3, 0.92],
  [3, 2, 0.935],
  [3, 3, 0.935],
]) {
  let [low, high] = [0.1, 1e4];
  for (let i = 0; i < 40; i++) {
    const middle = Math.sqrt(low * high);
    if (best(middle, sd, n).coverage < wanted) low = middle;
    else high = middle;
  }
  const { width, coverage } = best(high, sd, n);
  console.log(
    `${n} series, placements of ${sd} % held in ${(100 * coverage).toFixed(1)} %: at 1 % no rule has a mean half-width below ${width.toFixed(2)} %`,
  );
}
