/** Factors of several units → what a comparison of the units starts from. */

import { argumentWrong, MeterpairError } from '../error.js';
import {
  commonToAll,
  sameName,
  sharedReference,
  statedReference,
} from '../opinions/sharedReference.js';
import { withoutCommon } from '../opinions/withoutCommon.js';
import { FACTORS } from '../record/recordShapes.js';
import { requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import type { Factors } from '../vocabulary.js';
import { atWavelength } from '../wavelengths/atWavelength.js';
import type { UnitFactor } from './severalUnits.js';

/**
 * The factor of each unit at one wavelength, without what all units owe to the reference.
 *
 * @param units one factors.json a unit, all against one reference under one calibration. An early
 *   file that does not say how large its calibration is counts as saying the same as the others;
 *   where none says it, nothing is taken out
 * @param options `wavelength_nm` in nm
 * @returns relative standard uncertainties as fractions, in the order of the units
 * @throws argument-wrong for no units, for another reference or stated uncertainty, and for a
 *   candidate or data that come twice; wavelength-out-of-range for a unit without a factor there
 *
 * Source of the part taken out: JCGM 100:2008, 5.2.
 */
export function unitFactors(
  units: readonly Factors[],
  options: { readonly wavelength_nm: number },
): readonly UnitFactor[] {
  const { wavelength_nm } = requireOptions(options, { wavelength_nm: 'above-zero' });
  requireShape(units, 'The units', { list: FACTORS });
  const [first] = units;
  if (first === undefined) throw argumentWrong('There are no units.', 0, 'one factors.json a unit');
  const shared = sharedReference(units.map(statedReference));
  if (!shared.same) throw otherReference(units, shared.sameName);
  for (const [place, one] of units.entries()) requireNew(one, units.slice(0, place));
  const entries = units.map((one) => {
    const entry = atWavelength(one.factors, wavelength_nm);
    if (entry === undefined) throw noFactor(one, wavelength_nm);
    return { name: one.candidate.name, ...entry };
  });
  const common = commonToAll(shared, entries) ?? 0;
  return entries.map(({ name, ...entry }) => ({
    name,
    factor: entry.factor,
    relative_standard_uncertainty: withoutCommon(entry, common).standardUncertainty,
  }));
}

function otherReference(units: readonly Factors[], sameNames: boolean): MeterpairError {
  return argumentWrong(
    sameNames
      ? 'The reference states another uncertainty for some units: calibrated anew, it is another yardstick.'
      : 'The units were compared with different references.',
    [...new Set(units.map((one) => `"${one.reference.name}"`))].join(' and '),
    'factors of all units against one reference under one calibration',
  );
}

function requireNew(one: Factors, before: readonly Factors[]): void {
  const twin = before.find((other) => sameName(other.candidate.name, one.candidate.name));
  if (twin !== undefined) {
    throw argumentWrong(
      'A candidate comes twice.',
      `"${one.candidate.name}" in "${twin.title}" and in "${one.title}"`,
      'one factors.json a unit, each unit under a name of its own',
    );
  }
  const copy = before.find((other) => other.data_sha256 === one.data_sha256);
  if (copy === undefined) return;
  throw argumentWrong(
    'The same data come twice.',
    `"${copy.candidate.name}" and "${one.candidate.name}"`,
    'a comparison of its own for every unit',
  );
}

function noFactor(one: Factors, nm: number): MeterpairError {
  return new MeterpairError({
    code: 'wavelength-out-of-range',
    message: `"${one.candidate.name}" has no factor at ${nm} nm.`,
    found: `${nm} nm`,
    expected: one.factors.map((entry) => `${entry.wavelength_nm} nm`).join(', ') || 'none measured',
  });
}
