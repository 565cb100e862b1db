import type { Result } from '../../vocabulary.js';

/** What follows for each wavelength, and for one factor for all of them. */
export function verdictSentences(result: Result): readonly string[] {
  return [
    ...result.wavelengths.map((one) => `${one.wavelength_nm} nm: ${one.why}`),
    `One factor for every wavelength: ${result.common_factor.why}`,
  ];
}

/** What would improve the result most, and what nobody recorded. */
export function nextSentences(result: Result): readonly string[] {
  const laps = result.series
    .filter((series) => series.verdict === 'inconclusive')
    .map((series) => `${series.id}: ${series.why}`);
  const steps = result.wavelengths.map((one) => {
    const lacking =
      one.not_in_budget.length === 0 ? '' : ` Not in the budget: ${one.not_in_budget.join('; ')}.`;
    return `${one.wavelength_nm} nm: ${one.next_step}${lacking}`;
  });
  return [...laps, ...steps];
}

/** Every warning, with the series it is about. */
export function warningSentences(result: Result): readonly string[] {
  if (result.warnings.length === 0) return ['No warnings.'];
  return result.warnings.map((warning) =>
    warning.series === undefined ? warning.message : `${warning.series}: ${warning.message}`,
  );
}
