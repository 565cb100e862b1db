/** How well the readings of a series repeat, which says nothing of how far the meters are apart. */
import { nullIfTooFew } from '../error.js';
import { formatNumber, TWO_DIGITS } from '../findings/formatNumber.js';
import { type DriftModel, driftModel, effectUncertainty } from '../series/driftModel.js';
import type { Series } from '../vocabulary.js';

/** Degrees of freedom below which a scatter says next to nothing. */
const LEAST_FREE = 3;

/** The drift model of the runs that count; `null` while they are too few. */
export function modelSoFar({ runs }: Series): DriftModel | null {
  const kept = runs.filter((run) => run.exclude === null && run.reading_mW > 0);
  const meters = new Set(kept.map(({ meter }) => meter));
  return meters.size < 2 ? null : nullIfTooFew(() => driftModel(kept));
}

/** Scatter of one reading of each meter, and what it leaves in K. */
export function repeatabilitySentence(series: Series): string {
  const model = modelSoFar(series);
  const free = model === null ? 0 : model.fit.n - model.fit.p;
  if (model === null || free < LEAST_FREE) return 'Repeatability: not to be told from so few runs.';
  const [reference, candidate] = model.fit.variances.map((variance) =>
    percent(Math.sqrt(variance)),
  );
  const { standardUncertainty, dof } = effectUncertainty(model);
  return `One reading scatters by ${reference} (reference) and ${candidate} (candidate), drift taken out; in K that leaves u = ${percent(standardUncertainty)}, with ${formatNumber(dof, { digits: 2 })} degrees of freedom.`;
}

const percent = (fraction: number) => formatNumber(fraction, { as: 'percent', ...TWO_DIGITS });
