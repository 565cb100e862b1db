import { correct } from '../../factors/correct.js';
import type { NewReading } from '../../factors/newReading.js';
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatRelative,
  NO_NUMBER,
} from '../../findings/formatNumber.js';
import { formatUncertain, formatUncertainty } from '../../findings/formatUncertain.js';
import { VERDICT_WORDS } from '../../findings/words.js';
import type { Factors, Interval } from '../../vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../../wavelengths/atWavelength.js';
import type { TableRow } from '../tableHtml.js';

/** What a file of factors holds, wavelength by wavelength. */
export function factorEntryRows(factors: Factors): readonly TableRow[] {
  return factors.factors.map((entry) => ({
    'Wavelength in nm': entry.wavelength_nm,
    'Factor K': formatUncertain(entry.factor, entry.factor * entry.relative_expanded_uncertainty),
    U: formatUncertainty(entry.relative_expanded_uncertainty, { as: 'percent' }),
    k: formatNumber(entry.coverage_factor, { digits: 3 }),
    'Measured for candidate readings in mW': rangeText(entry.candidate_range_mW),
    Verdict: VERDICT_WORDS[entry.verdict],
  }));
}

/**
 * A reading between two measured wavelengths, and what it would be at either of them; no rows when
 * the wavelength was measured or lies beyond the measured ones.
 */
export function envelopeRows(factors: Factors, reading: NewReading): readonly TableRow[] {
  const nm = reading.wavelength_nm;
  const measured = factors.factors.map((entry) => entry.wavelength_nm);
  const below = Math.max(...measured.filter((one) => one < nm));
  const above = Math.min(...measured.filter((one) => one > nm));
  const near = measured.some((one) => Math.abs(one - nm) <= SAME_WAVELENGTH_NM);
  if (near || !Number.isFinite(below) || !Number.isFinite(above)) return [];
  return [below, nm, above].map((wavelength_nm) => {
    const found = correct(factors, { ...reading, wavelength_nm });
    return {
      'Wavelength in nm': wavelength_nm,
      '': wavelength_nm === nm ? 'in between' : 'measured',
      'Factor K': formatNumber(found.factor, { keepZeros: true }),
      'Corrected power': formatUncertain(found.value, found.U, { unit: 'mW' }),
      'Interval in mW': formatInterval(found.low, found.high),
      U: formatUncertainty(found.U / found.value, { as: 'percent' }),
    };
  });
}

/**
 * What the uncertainty of one corrected reading is made of.
 *
 * @throws as `correct`
 */
export function readingBudgetRows(factors: Factors, reading: NewReading): readonly TableRow[] {
  const found = correct(factors, reading);
  const u = Math.hypot(...found.parts.map((part) => part.relative_standard_uncertainty));
  const row = (name: string, part: number, dof: number) => ({
    Contribution: name,
    'Standard uncertainty in %': formatRelative(part),
    'Share of the variance in %': u > 0 ? Math.round(100 * (part / u) ** 2) : NO_NUMBER,
    'Degrees of freedom': formatDegreesOfFreedom(dof),
  });
  return [
    ...found.parts.map(({ name, relative_standard_uncertainty, dof, stated }) =>
      row(stated ? name : `${name}, not stated`, relative_standard_uncertainty, dof),
    ),
    row('combined', u, found.dof),
    {
      Contribution: `expanded, k = ${formatNumber(found.k, { digits: 3 })}`,
      'Standard uncertainty in %': formatRelative(found.U / found.value),
      'Share of the variance in %': NO_NUMBER,
      'Degrees of freedom': NO_NUMBER,
    },
  ];
}

/** As shown by the candidate, so not rounded to anything. */
function rangeText([low, high]: Interval): string {
  return low === high ? formatNumber(low) : `${formatNumber(low)} to ${formatNumber(high)}`;
}
