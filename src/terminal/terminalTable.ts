/** The answer for a terminal of 80 columns: the same as page one of the report. */
import { nothingCompared } from '../factors/analyseThenAndNow.js';
import { answer } from '../findings/answer.js';
import { nextStep, scattered, suspectTexts, unknownParts, untold } from '../findings/doubts.js';
import { withoutControls } from '../findings/escape.js';
import { cellText, type Finding, headOf, isNumeric } from '../findings/finding.js';
import { CHANGE_WORDS } from '../findings/findingWords.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import { moreHazardous, otherLabels } from '../findings/hazardFinding.js';
import { unbroken } from '../findings/unbroken.js';
import { factorWarnings, ranked, warningText, warningTexts } from '../findings/warningRank.js';
import { confidenceWords } from '../findings/words.js';
import { isBefore } from '../record/days.js';
import { RESULT } from '../record/recordShapes.js';
import { requireShape } from '../statistics/shapes.js';
import type { Result } from '../vocabulary.js';

const WIDTH = 80;
/** Said by the row of its wavelength and by the next step too: these are not in the terminal's table. */
const COLUMNS = ['At', 'It shows', 'Multiply by', '± U', 'Verdict'];

/**
 * What to multiply by and where that holds, what is unsafe, what is in doubt, the one next step, and how
 * many warnings there are. At most 80 columns, no colours.
 */
export function terminalTable(result: Result): string {
  requireShape(result, 'A result', RESULT);
  const unsafe = moreHazardous(result);
  const bear = factorWarnings(result);
  return [
    ...wrap(
      `${result.candidate} against ${result.reference}, ${confidenceWords(result.confidence)} confidence, tolerance ± ${formatNumber(result.tolerance_percent)} %`,
    ),
    ...textTable(answer(result)),
    ...suspectTexts(result).flatMap(alarm),
    ...unsafe.flatMap(alarm),
    ...wrap(
      `${otherLabels(result)} Screening only: IEC 60825-1 and a laser safety officer decide.`,
    ),
    ...untold(result, 'blocked').flatMap(alarm),
    ...warningTexts(bear).flatMap(alarm),
    ...scattered(result).flatMap(alarm),
    ...changes(result),
    ...wrap(`Next: ${nextStep(result)}`),
    ...wrap(`${warnings(result, bear.length)}${unknown(result)}`),
    '',
  ].join('\n');
}

function unknown(result: Result): string {
  const count = unknownParts(result).length;
  return count === 0
    ? ''
    : ` ${counted(count, 'part is', 'parts are')} in no budget, so U may be too small.`;
}

/** How many warnings, and the worst in words unless it stands above already. */
function warnings(result: Result, said: number): string {
  const count = result.warnings.length;
  const [worst] = ranked(result);
  if (worst === undefined) return 'No warnings.';
  const all = counted(count, 'warning', 'warnings');
  return said > 0
    ? `${all}, the worst above, all in report.html.`
    : `${all} in report.html, the worst: ${warningText(worst)}`;
}

/** Only when earlier factors were given. */
function changes({ then_and_now: found, date }: Result): readonly string[] {
  if (found === null) return [];
  const nothing = nothingCompared(found);
  const day = found.earlier_date;
  const since =
    day !== null && date !== null && isBefore(date, day)
      ? `Against "${found.earlier_title}" of ${day}, younger than this study of ${date}`
      : `Since "${found.earlier_title}"`;
  if (nothing !== '') return wrap(`${since}: nothing can be compared. ${nothing}`);
  const each = found.wavelengths.map(
    (one) => `${formatNumber(one.wavelength_nm)} nm ${CHANGE_WORDS[one.verdict]}`,
  );
  return wrap(`${since}: ${each.join(', ')}.`);
}

/** Columns as wide as they need, numbers to the right; the last one takes what is left. */
function textTable({ columns, rows, empty }: Finding): readonly string[] {
  if (rows.length === 0) return [empty];
  const shown = columns.flatMap((column, at) =>
    COLUMNS.includes(column.head) ? [{ column, at }] : [],
  );
  const table = [
    shown.map(({ column }) => headOf(column)),
    ...rows.map((row) => shown.map(({ column, at }) => cellText(column, row[at] ?? null))),
  ];
  const widths = shown.map((_, i) => Math.max(...table.map((row) => [...(row[i] ?? '')].length)));
  return table.map((row) =>
    row
      .map((text, i) =>
        isNumeric(shown[i].column) ? text.padStart(widths[i]) : text.padEnd(widths[i]),
      )
      .join('  ')
      .trimEnd(),
  );
}

const alarm = (text: string): readonly string[] => wrap(`! ${text}`, '  ');

/** Breaks at spaces, never between a number and its unit; a word longer than a line is cut. */
function wrap(text: string, indent = ''): readonly string[] {
  const lines = [''];
  for (const word of unbroken(withoutControls(text)).split(/ +/)) {
    for (let rest = [...word]; rest.length > 0; ) {
      const room = WIDTH - indent.length;
      const piece = rest.splice(0, room).join('');
      const last = lines[lines.length - 1];
      const joined = last === '' ? piece : `${last} ${piece}`;
      if ([...joined].length <= (lines.length === 1 ? WIDTH : room))
        lines[lines.length - 1] = joined;
      else lines.push(piece);
    }
  }
  return lines.map((line, i) => (i === 0 ? line : `${indent}${line}`).replaceAll('\u00a0', ' '));
}
