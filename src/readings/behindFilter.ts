/** What a reading behind a filter says of the power in front of it. */
import type { Filter, Series, Study } from '../vocabulary.js';

/** A stated transmission counts for wavelengths this near, nm (common practice, no source). */
const STATED_WITHIN_NM = 5;
/** A filter that passes less of the wanted line than this part of what it passes best is for other light. */
const MADE_FOR = 0.1;

export interface FilterState {
  /**
   * `none`: no filter; `stated`: its transmission of the wanted line is known; `other-light`: it
   * blocks the wanted line and passes other light, which is what the readings are of; `not-stated`:
   * nobody knows what it lets through.
   */
  readonly status: 'none' | 'stated' | 'other-light' | 'not-stated';
  /** Part that it lets through, of the wanted line or of the light it passes best; 1 for none. */
  readonly transmission: number;
  readonly standardUncertainty: number;
}

const NONE: FilterState = { status: 'none', transmission: 1, standardUncertainty: 0 };

/** The transmission stated for a wavelength. */
export function transmissionAt(
  filter: Filter,
  nm: number,
): Filter['transmissions'][number] | undefined {
  return filter.transmissions
    .filter((one) => Math.abs(one.wavelength_nm - nm) <= STATED_WITHIN_NM)
    .sort((a, b) => Math.abs(a.wavelength_nm - nm) - Math.abs(b.wavelength_nm - nm))[0];
}

export function filterState(study: Pick<Study, 'filters'>, series: Series): FilterState {
  if (series.filter === null) return NONE;
  const filter = study.filters.find((one) => one.name === series.filter);
  const wanted = filter === undefined ? undefined : transmissionAt(filter, series.wavelength_nm);
  if (filter === undefined || wanted === undefined || !(wanted.transmission > 0)) {
    return { status: 'not-stated', transmission: 1, standardUncertainty: 0 };
  }
  const best = filter.transmissions.reduce((a, b) => (b.transmission > a.transmission ? b : a));
  const [status, passed] =
    wanted.transmission < MADE_FOR * best.transmission
      ? (['other-light', best] as const)
      : (['stated', wanted] as const);
  return {
    status,
    transmission: passed.transmission,
    standardUncertainty: passed.standard_uncertainty,
  };
}
