/** A fraction as percent with two significant digits, for sentences: 0.0312 → "3.1 %". */
export function percentText(fraction: number): string {
  const percent = 100 * fraction;
  if (percent === 0) return '0 %';
  // toPrecision turns to exponents outside this range, which no sentence should show.
  if (percent >= 99.5) return `${Math.round(percent)} %`;
  return `${percent < 1e-6 ? percent.toExponential(1) : percent.toPrecision(2)} %`;
}

/** A share of the variance as whole percent, with "less than 1 %" instead of "0 %". */
export function shareText(share: number): string {
  const percent = Math.round(100 * share);
  if (percent < 1 && share > 0) return 'less than 1 %';
  return percent === 100 && share < 1 ? 'nearly all' : `${percent} %`;
}
