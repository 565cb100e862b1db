/** Which warnings bear on the use of a factor, and which is the worst. */
import type { Result, Warning } from '../vocabulary.js';

/** Worst first: what may hurt somebody, then what may make a factor wrong. */
const BEARS_ON_USE = [
  'hazard-pulsed',
  'hazard-nothing-seen',
  'hazard-unbounded',
  'hazard-unit',
  'hazard-no-class',
  'hazard-taken-as-settled',
  'infrared-in-the-beam',
  'setting-wrong',
  'setting-contradicted',
  'reference-contradicted',
  'certificates-contradict',
  'neighbours-contradict',
  'series-contradict',
  'short-series-contradict',
  'reads-low-at-the-top',
  'certificate-out-of-date',
  'earlier-is-younger',
  'factor-moved',
  're-checks-out-of-control',
  'infrared-not-separated',
  'reading-time-not-stated',
  'read-too-early',
  'time-constant-contradicted',
];

const rank = ({ code }: Warning): number => {
  const place = BEARS_ON_USE.indexOf(code);
  return place < 0 ? BEARS_ON_USE.length : place;
};

/** All warnings, worst first. */
export function ranked(result: Pick<Result, 'warnings'>): readonly Warning[] {
  return [...result.warnings].sort((a, b) => rank(a) - rank(b));
}

/** Warnings that stand beside a factor, not only in the list. */
export function factorWarnings(result: Pick<Result, 'warnings'>): readonly Warning[] {
  return ranked(result).filter((one) => BEARS_ON_USE.includes(one.code));
}

/** The others, each code once, with the series that it is about. */
export function otherWarnings(result: Pick<Result, 'warnings'>): readonly string[] {
  const others = ranked(result).filter((one) => !BEARS_ON_USE.includes(one.code));
  const codes = [...new Set(others.map((one) => one.code))];
  return codes.flatMap((code) => {
    const same = others.filter((one) => one.code === code);
    return code === ORDER_BIAS && same.length > 1 ? [orderBias(same)] : same.map(warningText);
  });
}

/** Its number stands for each series in the table of drift. */
const ORDER_BIAS = 'order-bias';

function orderBias([first, ...rest]: readonly Warning[]): string {
  return `${warningText(first)} So it is, by other amounts, in ${rest.map((one) => one.series).join(', ')}: see the drift by series.`;
}

/** "violet: …". */
export function warningText({ series, message }: Warning): string {
  return series === undefined ? message : `${series}: ${message}`;
}

/** Warnings as texts; the same said of several series is said once, with all of them. */
export function warningTexts(warnings: readonly Warning[]): readonly string[] {
  const messages = [...new Set(warnings.map(({ message }) => message))];
  return messages.map((message) => {
    const about = warnings.flatMap((one) => (one.message === message ? (one.series ?? []) : []));
    return about.length === 0 ? message : `${about.join(', ')}: ${message}`;
  });
}
