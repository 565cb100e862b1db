/** The factors and verdicts as a short table for a terminal of 80 columns. */

import CliTable3 from 'cli-table3';
import { changeSentences } from '../findings/changeSentences.js';
import { withoutControls } from '../findings/escape.js';
import { factorWarnings } from '../findings/findingWords.js';
import { formatNumber, formatPower, formatRelative } from '../findings/formatNumber.js';
import { roundUncertain } from '../findings/formatUncertain.js';
import { reCheckSentences } from '../findings/reCheckSentences.js';
import {
  confidenceWords,
  DIRECTION,
  factorLines,
  hazardZone,
  isBeyondTolerance,
  isSettled,
  labelVerdict,
  labelWords,
  VERDICT_WORDS,
} from '../findings/words.js';
import { RESULT } from '../record/recordShapes.js';
import { requireShape } from '../statistics/shapes.js';
import type { HazardResult, Result, SuspectResult, WavelengthResult } from '../vocabulary.js';

const WIDTH = 80;
const LINES = {
  top: '─',
  'top-mid': '─',
  'top-left': ' ',
  'top-right': ' ',
  bottom: '─',
  'bottom-mid': '─',
  'bottom-left': ' ',
  'bottom-right': ' ',
  left: ' ',
  'left-mid': '',
  mid: '',
  'mid-mid': '',
  right: ' ',
  'right-mid': '',
  middle: ' ',
};

/**
 * What to multiply by, where that holds and what it means, then the hazard of each source and the
 * number of warnings. At most 80 columns, no colours.
 */
export function terminalTable(result: Result): string {
  requireShape(result, 'A result', RESULT);
  const table = new CliTable3({
    head: ['nm', 'multiply by', 'U or interval', 'holds (candidate)', 'verdict'],
    colWidths: [7, 13, 16, 19, 19],
    colAligns: ['left', 'right', 'right', 'right', 'left'],
    chars: LINES,
    style: { head: [], border: [], 'padding-left': 1, 'padding-right': 1 },
    wordWrap: true,
  });
  for (const one of result.wavelengths) table.push(...rows(one));
  const open = result.wavelengths.filter((one) => !isSettled(one));
  return [
    ...wrap(`${withoutControls(result.candidate)} against ${withoutControls(result.reference)}`),
    ...suspects(result.suspects),
    ...wrap(DIRECTION),
    ...(result.wavelengths.length === 0
      ? ['There is no wavelength with a comparison.']
      : table
          .toString()
          .split('\n')
          .map((line) => line.trimEnd())),
    ...wrap(
      `U for ${confidenceWords(result.confidence)} confidence; tolerance ± ${formatNumber(result.tolerance_percent)} %.`,
    ),
    ...open.flatMap((one) =>
      wrap(
        `${formatNumber(one.wavelength_nm)} nm: ${withoutControls(one.why)} ${withoutControls(one.next_step)}`,
      ),
    ),
    ...result.wavelengths.filter(isSettled).flatMap((one) => useOf(one, result.tolerance_percent)),
    ...notices(result),
    ...changes(result),
    ...reChecks(result),
    ...hazards(result.hazard),
    '',
    warningCount(result.warnings.length),
    '',
  ].join('\n');
}

/** One line for each level of power. */
function rows(one: WavelengthResult): string[][] {
  const nm = formatNumber(one.wavelength_nm);
  if (!isSettled(one)) return [[nm, '—', '—', '—', VERDICT_WORDS[one.verdict]]];
  return factorLines(one).map(({ factor, U, reach, holds }, i) => {
    const { value } = roundUncertain(factor, factor * U);
    const first = i === 0;
    return [first ? nm : '', value, reach, holds, first ? VERDICT_WORDS[one.verdict] : ''];
  });
}

/** Entries to be looked at again: they come before everything that rests on them. */
function suspects(list: readonly SuspectResult[]): readonly string[] {
  if (list.length === 0) return [];
  return [
    ...list.flatMap((one) => wrap(`! ${withoutControls(`${one.message} ${one.why}`)}`, '  ')),
    '',
  ];
}

/** A factor that serves as a mean and not for a single reading. */
function useOf(one: WavelengthResult, tolerance_percent: number): readonly string[] {
  if (!isBeyondTolerance(one, tolerance_percent)) return [];
  return wrap(
    `! ${formatNumber(one.wavelength_nm)} nm: a reading corrected on another day is known to ± ${formatRelative(one.corrected_reading_relative_U)} % only, beyond the tolerance: put the head up several times and correct the mean.`,
    '  ',
  );
}

function hazards(list: readonly HazardResult[]): readonly string[] {
  if (list.length === 0) return [];
  return [
    '',
    'Hazard of the sources, on the safe side:',
    ...list.flatMap((one) => {
      const upper =
        one.upper_mW === null ? '' : `up to ${formatPower(one.upper_mW, { up: true })}. `;
      const alarm = one.label_understates === true ? '! ' : '- ';
      const text = `${withoutControls(one.source)}, ${formatNumber(one.wavelength_nm)} nm: ${upper}${hazardZone(one)} Label: ${withoutControls(labelWords(one))}; ${labelVerdict(one)}.`;
      return wrap(`${alarm}${text}`, '  ');
    }),
    ...wrap(
      'A screening aid, never a classification: IEC 60825-1, local rules and a laser safety officer decide.',
    ),
  ];
}

/** What bears on the use of a factor; what is said with the changes is not said twice. */
function notices(result: Result): readonly string[] {
  return factorWarnings(result)
    .filter((one) => one.code !== 'factor-moved' && one.code !== 're-checks-out-of-control')
    .flatMap((one) => wrap(`! ${withoutControls(one.message)}`, '  '));
}

/** Only when earlier factors were given. */
function changes(result: Result): readonly string[] {
  if (result.then_and_now === null) return [];
  const [basis, ...each] = changeSentences(result).map(withoutControls);
  return [
    '',
    'Since the earlier study:',
    ...wrap(basis),
    ...each.flatMap((line) => wrap(`- ${line}`, '  ')),
  ];
}

/** Only when several earlier factors were given. */
function reChecks({ re_checks: charts }: Result): readonly string[] {
  if (charts === null) return [];
  const [titles, ...each] = reCheckSentences(charts).map(withoutControls);
  return [
    '',
    'All re-checks on a chart:',
    ...wrap(titles),
    ...each.flatMap((line) => wrap(`- ${line}`, '  ')),
  ];
}

function warningCount(count: number): string {
  if (count === 0) return 'No warnings.';
  return `${count} ${count === 1 ? 'warning' : 'warnings'}: the report shows them in full.`;
}

/** Breaks at spaces; a word longer than a line is cut. */
function wrap(text: string, indent = ''): readonly string[] {
  const lines = [''];
  for (const word of text.split(/ +/)) {
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
  return lines.map((line, i) => (i === 0 ? line : `${indent}${line}`));
}
