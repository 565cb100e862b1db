import {
  type SeveralUnitsInput,
  severalUnits,
  type UnitFactor,
} from '../../factors/severalUnits.js';
import {
  formatInterval,
  formatNumber,
  formatRelative,
  formatWithin,
} from '../../findings/formatNumber.js';
import type { TableRow } from '../tableHtml.js';

/** One row a unit; `truth` for invented data. */
export function unitRows(
  units: readonly UnitFactor[],
  truth?: readonly number[] | undefined,
): readonly TableRow[] {
  return units.map((unit, i) => ({
    Unit: unit.name,
    'Factor K': formatNumber(unit.factor, { keepZeros: true }),
    'u without the reference in %': formatRelative(unit.relative_standard_uncertainty),
    ...(truth === undefined
      ? {}
      : { 'True K': formatNumber(truth[i] ?? null, { keepZeros: true }) }),
  }));
}

/**
 * What was known after two units, three, and so on to all of them.
 *
 * @throws as `severalUnits`
 */
export function unitByUnitRows(input: SeveralUnitsInput): readonly TableRow[] {
  return input.units.slice(1).map((_, i) => {
    const found = severalUnits({ ...input, units: input.units.slice(0, i + 2) });
    return {
      Units: i + 2,
      'Mean factor': formatWithin(found.factor, ...found.meanInterval),
      'Interval of the mean': formatInterval(...found.meanInterval),
      'A further unit': formatInterval(...found.furtherUnit),
      'Standard deviation in %': formatRelative(found.relativeSd),
      'Of the units alone in %': formatRelative(found.betweenUnitsRelativeSd),
      'A further unit serves': SERVES[found.verdict],
    };
  });
}

const SERVES = {
  uncorrected: 'as it is',
  common: 'with the mean factor',
  each: 'only after its own comparison',
} as const;
