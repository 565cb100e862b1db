/** The uncertainty budget: one matrix of contributions and wavelengths, and where each comes from. */
import { groupedBy } from '../statistics/groupedBy.js';
import type { Contribution, Result, WavelengthResult } from '../vocabulary.js';
import { type Cell, type Finding, finding, numbers, table, words } from './finding.js';
import { formatDegreesOfFreedom, formatNumber } from './formatNumber.js';

/** Parts of the variance, 0 to 1, in the shape of the matrix: row by row, then wavelength. */
export interface BudgetMatrix extends Finding {
  /** One list a row; `null` where the wavelength has no such contribution, or it is a sum. */
  readonly shares: readonly (readonly (number | null)[])[];
}

/** u of each contribution at each wavelength, the largest first; below the lines the whole. */
export function budgetMatrix(result: Result): BudgetMatrix {
  const shown = result.wavelengths.filter((one) => one.budget.length > 0);
  const names = namesOf(shown);
  const part = (one: WavelengthResult, name: string) =>
    one.budget.find((found) => found.name === name);
  const sums: readonly (readonly [string, (one: WavelengthResult) => Cell])[] = [
    ['combined u / %', (one) => one.relative_standard_uncertainty],
    ['ν', (one) => formatDegreesOfFreedom(one.dof)],
    ['k', (one) => formatNumber(one.coverage_factor, { digits: 3, keepZeros: true })],
    ['U / %', (one) => one.relative_expanded_uncertainty],
  ];
  return {
    ...finding({
      id: 'budget',
      title:
        'Relative standard uncertainty u of the factor in percent, by contribution and wavelength',
      columns: [
        words('Contribution'),
        words('Type'),
        ...shown.map((one) => numbers('fraction', `${formatNumber(one.wavelength_nm)} nm`)),
      ],
      rows: [
        ...names.map((name) => [
          name,
          typesOf(shown.flatMap((one) => part(one, name) ?? [])),
          ...shown.map((one) => part(one, name)?.relative_standard_uncertainty ?? null),
        ]),
        ...sums.map(([name, of]) => [name, ' ', ...shown.map(of)]),
      ],
      notes: [
        'Combined as in JCGM 100. Type A: from the scatter of this data; B: from other knowledge. Behind u its share of the variance, in whole percent, shaded. —: no such part. Where K goes by power, these are of the factor for all powers; the card has each level.',
      ],
      empty: 'No wavelength has a budget.',
    }),
    shares: [
      ...names.map((name) => shown.map((one) => part(one, name)?.share ?? null)),
      ...sums.map(() => shown.map(() => null)),
    ],
  };
}

/** Where each number comes from: a row for each origin, with the wavelengths that share it. */
export function budgetOrigins(result: Result): Finding {
  const parts = result.wavelengths.flatMap(({ budget, wavelength_nm }) =>
    budget.map((part) => ({ ...part, wavelength_nm })),
  );
  const origins = groupedBy(
    parts.map((part) => [JSON.stringify([part.name, part.type, part.note]), part] as const),
  );
  return finding({
    id: 'budget-origins',
    title: 'Where each contribution comes from',
    ...table(
      [...origins.values()],
      [
        [words('Contribution'), ([part]) => part.name],
        [words('Type'), ([part]) => part.type],
        [words('At / nm'), (at) => at.map((part) => formatNumber(part.wavelength_nm)).join(', ')],
        [words('Origin'), ([part]) => part.note],
      ],
    ),
    empty: 'No wavelength has a budget.',
  });
}

/** Every name once, by the largest share that it has anywhere. */
function namesOf(shown: readonly WavelengthResult[]): readonly string[] {
  const largest = new Map<string, number>();
  for (const { name, share } of shown.flatMap((one) => one.budget)) {
    largest.set(name, Math.max(share, largest.get(name) ?? 0));
  }
  return [...largest].sort((a, b) => b[1] - a[1]).map(([name]) => name);
}

const typesOf = (parts: readonly Contribution[]): string =>
  [...new Set(parts.map((part) => part.type))].sort().join(', ');
