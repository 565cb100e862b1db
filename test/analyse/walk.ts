import type { Result } from '../../src/vocabulary.js';

/** Where `null` has one meaning, which the type says: what it means. */
const BY_DEFINITION: Readonly<Record<string, string>> = {
  date: 'the study states none',
  then_and_now: 'no earlier factors were given',
  re_checks: 'fewer than two earlier files of factors were given',
  'power.overall.wavelength_nm': 'all wavelengths together',
  'power.overall.range_mW': 'no series has a factor, as bend.why and prediction.why say',
};

/**
 * Faults of a result: numbers that are not finite, and `null`s without words. The words of a `null`
 * are a `why` on its way up, or a warning about its series.
 */
export function faultsIn(result: Result): string[] {
  const faults: string[] = [];
  const walk = (value: unknown, path: readonly string[], words: boolean): void => {
    if (typeof value === 'number' && !Number.isFinite(value)) {
      faults.push(`${path.join('.')} is ${value}`);
    }
    if (value === undefined) faults.push(`${path.join('.')} is undefined`);
    if (value === null && !words && BY_DEFINITION[path.join('.')] === undefined) {
      faults.push(`${path.join('.')} is null without a word`);
    }
    if (typeof value !== 'object' || value === null) return;
    const record = value as Readonly<Record<string, unknown>>;
    const why = typeof record.why === 'string' && record.why.trim() !== '';
    const warned =
      typeof record.id === 'string' && result.warnings.some((one) => one.series === record.id);
    for (const [key, part] of Object.entries(record)) {
      walk(part, [...path, key], words || why || warned);
    }
  };
  walk(result, [], false);
  return faults;
}
