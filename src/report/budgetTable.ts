/** The budget as one matrix, each share of the variance in words and as a shade. */
import type { BudgetMatrix } from '../findings/budgetFinding.js';
import { type Html, html } from './html.js';
import { findingTable } from './table.js';

/** Columns before the wavelengths: contribution and type. */
const BEFORE = 2;

/** Shades, darkest last; the share beside the number says the same without them. */
const STEPS = [0.01, 0.1, 0.25, 0.5];

export function budgetTable(matrix: BudgetMatrix): Html {
  return findingTable(matrix, {
    beside: (row, column) => {
      const share = matrix.shares[row]?.[column - BEFORE] ?? null;
      if (share === null) return null;
      const shade = STEPS.filter((step) => share >= step).length;
      return { after: html` <small>${shareText(share)}</small>`, style: `share-${shade}` };
    },
  });
}

const shareText = (share: number): string =>
  share > 0 && share < 0.005 ? '<1' : String(Math.round(100 * share));
