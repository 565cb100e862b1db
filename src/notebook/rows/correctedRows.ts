import { MeterpairError } from '../../error.js';
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
import { rangeWords, VERDICT_WORDS } from '../../findings/words.js';
import type { Factors } from '../../vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../../wavelengths/atWavelength.js';
import type { TableRow } from '../tableHtml.js';

/** What a file of factors holds, wavelength by wavelength. */
export function factorEntryRows(factors: Factors): readonly TableRow[] {
  return factors.factors.map((entry) => ({
    'Wavelength in nm': entry.wavelength_nm,
    'Factor K': formatUncertain(entry.factor, entry.factor * entry.relative_expanded_uncertainty),
    U: formatUncertainty(entry.relative_expanded_uncertainty, { as: 'percent' }),
    k: formatNumber(entry.coverage_factor, { digits: 3, keepZeros: true }),
    'Measured for candidate readings in mW': rangeWords(entry.candidate_range_mW),
    Verdict: VERDICT_WORDS[entry.verdict],
  }));
}

/** A reading in the middle of the widest gap between measured wavelengths; `null` where there is no gap. */
export function readingBetween({
  factors,
}: Factors): { readonly reading_mW: number; readonly wavelength_nm: number } | null {
  const sorted = [...factors].sort((a, b) => a.wavelength_nm - b.wavelength_nm);
  const gaps = sorted.slice(1).map((above, i) => ({ below: sorted[i], above }));
  const width = ({ below, above }: (typeof gaps)[number]) =>
    above.wavelength_nm - below.wavelength_nm;
  const widest = [...gaps].sort((a, b) => width(b) - width(a)).at(0);
  if (widest === undefined) return null;
  const { below, above } = widest;
  const [low, high] = [0, 1].map((end) =>
    Math.sqrt(below.candidate_range_mW[end] * above.candidate_range_mW[end]),
  );
  return {
    reading_mW: Number(Math.sqrt(low * high).toPrecision(2)),
    wavelength_nm: Math.round((below.wavelength_nm + above.wavelength_nm) / 2),
  };
}

/**
 * A reading between two measured wavelengths, and what it would be at either of them; no rows when
 * the wavelength was measured or lies beyond the measured ones.
 */
export function envelopeRows(factors: Factors, reading: NewReading | null): readonly TableRow[] {
  if (reading === null) return [];
  const nm = reading.wavelength_nm;
  const measured = factors.factors.map((entry) => entry.wavelength_nm);
  const below = Math.max(...measured.filter((one) => one < nm));
  const above = Math.min(...measured.filter((one) => one > nm));
  const near = measured.some((one) => Math.abs(one - nm) <= SAME_WAVELENGTH_NM);
  if (near || !Number.isFinite(below) || !Number.isFinite(above)) return [];
  return [below, nm, above].map((wavelength_nm) => ({
    'Wavelength in nm': wavelength_nm,
    '': wavelength_nm === nm ? 'in between' : 'measured',
    ...correctedCells(factors, { ...reading, wavelength_nm }),
  }));
}

function correctedCells(factors: Factors, reading: NewReading): TableRow {
  try {
    const { value, U, low, high, factor } = correct(factors, reading);
    return {
      'Factor K': formatNumber(factor, { keepZeros: true }),
      'Corrected power': formatUncertain(value, U, { unit: 'mW' }),
      'Interval in mW': formatInterval(low, high),
      U: formatUncertainty(U / value, { as: 'percent' }),
    };
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return {
      'Factor K': NO_NUMBER,
      'Corrected power': `refused: ${error.message}`,
      'Interval in mW': NO_NUMBER,
      U: NO_NUMBER,
    };
  }
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
