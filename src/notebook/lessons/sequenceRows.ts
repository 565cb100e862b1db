import { argumentWrong } from '../../error.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { mean } from '../../statistics/summary.js';
import type { TableRow } from '../tableHtml.js';

/**
 * What a sequence of runs leaves of a steady drift in the plain mean of candidate minus reference.
 *
 * @param list letters in the order of the runs: A the reference, B the candidate, − a run that was
 *   lost; blanks count for nothing. A lost run keeps its place in time.
 * @param options.percent_per_run steady drift of the source
 * @throws argument-wrong when one of the meters does not occur
 */
export function sequenceRows(
  list: readonly string[],
  options: { readonly percent_per_run: number },
): readonly TableRow[] {
  return list.map((text) => {
    const steps = stepsLeft(text);
    return {
      Runs: text,
      'Steps of drift left': formatNumber(steps, { digits: 3 }),
      'Left in %': formatNumber(steps * options.percent_per_run, { digits: 3 }),
    };
  });
}

/** Mean place of the candidate's runs minus that of the reference's, in runs. */
export function stepsLeft(text: string): number {
  const letters = [...text].filter((letter) => letter.trim() !== '');
  const places = (own: string) => letters.flatMap((letter, i) => (letter === own ? [i] : []));
  const [reference, candidate] = [places('A'), places('B')];
  if (reference.length === 0 || candidate.length === 0) {
    throw argumentWrong('A comparison needs at least one run on each meter.', text, 'A and B');
  }
  return mean(candidate) - mean(reference);
}
