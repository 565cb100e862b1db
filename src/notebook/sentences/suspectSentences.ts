import type { Result } from '../../vocabulary.js';

/** Entries that look like slips of the pen, with what each does to K; a sentence where there are none. */
export function suspectSentences({ suspects }: Result): readonly string[] {
  return suspects.length === 0
    ? ['No entry looks like a slip of the pen.']
    : suspects.map(({ message, why }) => `${message} ${why}`);
}

/** Whether K differs between the levels of power, wavelength by wavelength. */
export function powerVerdictSentences({ wavelengths }: Result): readonly string[] {
  return wavelengths
    .filter((one) => one.levels.length > 1)
    .map((one) => `${one.wavelength_nm} nm: ${one.by_power.why}`);
}
