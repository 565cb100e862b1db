/** On which day a comparison was made. */
import type { Warning } from '../vocabulary.js';
import type { RunEntry } from './runTable.js';

/**
 * The day that study.json states; without one, that of the first row whose time is written with its
 * day; `null` where neither says. A stated day that is none of the rows' own is warned of, and taken.
 */
export function studyDate(
  stated: string | null,
  entries: readonly RunEntry[],
  warnings: Warning[],
): string | null {
  const days = entries.flatMap(({ started }) => started?.day ?? []).sort();
  const [first] = days;
  if (stated === null || first === undefined) return stated ?? first ?? null;
  if (!days.some((day) => day.startsWith(stated))) {
    warnings.push({
      code: 'dates-differ',
      message: `study.json says that the comparison was made on ${stated}, and the rows of runs.csv are of ${first}${days.at(-1) === first ? '' : ` to ${days.at(-1)}`}: one of them is wrong. ${stated} is taken.`,
    });
  }
  return stated;
}
