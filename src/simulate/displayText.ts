/** A number with the decimals of a display whose smallest step is `step_mW`. */
export function displayText(step_mW: number, value_mW: number): string {
  return value_mW.toFixed(Math.max(0, Math.ceil(-Math.log10(step_mW) - 1e-9)));
}
