/** Infrared beside a wanted line, from series with and without a filter. */

import { transmissionAt } from '../readings/behindFilter.js';
import { meterAt, statedRelative } from '../readings/certificate.js';
import { runsOn } from '../record/meters.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import type { Estimate } from '../statistics/randomEffects.js';
import { mean } from '../statistics/summary.js';
import type { Filter, InfraredResult, Series, Study } from '../vocabulary.js';
import { infraredLeak } from './infraredLeak.js';

/** A filter that passes this much of the wanted line, … */
const PASSES = 0.3;
/** … and no more than this part of that anywhere else, leaves the wanted line alone. */
const BLOCKS = 0.1;

const filterOf = (study: Study, series: Series): Filter | undefined =>
  study.filters.find((one) => one.name === series.filter);

/** Transmission at the wavelength, and the largest one listed elsewhere. */
function transmissions(filter: Filter, nm: number) {
  const wanted = transmissionAt(filter, nm);
  const infrared = filter.transmissions
    .filter((one) => one.wavelength_nm > 700 && Math.abs(one.wavelength_nm - nm) > 5)
    .reduce<Filter['transmissions'][number] | undefined>(
      (a, b) => (a === undefined || b.transmission > a.transmission ? b : a),
      undefined,
    );
  return { wanted, infrared };
}

/** Whether a filter leaves only the wanted line. */
function isolates(filter: Filter | undefined, nm: number): boolean {
  if (filter === undefined) return false;
  const { wanted, infrared } = transmissions(filter, nm);
  return (
    wanted !== undefined &&
    infrared !== undefined &&
    wanted.transmission >= PASSES &&
    infrared.transmission <= BLOCKS * wanted.transmission
  );
}

/**
 * Series whose readings hold more than the wanted line, or something else: of a source that was
 * also measured behind an isolating filter, all series but those. They must not be averaged with
 * the isolated ones.
 */
export function unisolatedSeries(study: Study): ReadonlySet<string> {
  const isolated = (series: Series) => isolates(filterOf(study, series), series.wavelength_nm);
  const sources = new Set(study.series.filter(isolated).map((series) => series.source));
  return new Set(
    study.series
      .filter((series) => sources.has(series.source) && !isolated(series))
      .map((series) => series.id),
  );
}

/** One entry per source and filter that were measured with and without. */
export function analyseInfrared(
  study: Study,
  analyses: readonly SeriesAnalysis[],
): InfraredResult[] {
  const { reference } = study;
  return study.series.flatMap((series): InfraredResult[] => {
    const filter = filterOf(study, series);
    const bare = study.series.find((one) => one.source === series.source && one.filter === null);
    if (filter === undefined || bare === undefined) return [];
    const { source, wavelength_nm } = series;
    const levels = [levelOf(analyses, bare), levelOf(analyses, series)] as const;
    const share = statedRelative(meterAt(reference, wavelength_nm)) ?? 0;
    const found = separated(transmissions(filter, wavelength_nm), levels, share);
    return [{ source, filter: filter.name, wavelength_nm, ...found }];
  });
}

/** Mean of the kept readings of the reference; `null` without any. */
function levelOf(analyses: readonly SeriesAnalysis[], { id }: Series): Estimate | null {
  const found = analyses.find(({ result }) => result.id === id);
  const runs = runsOn(found?.model?.runs ?? [], 'reference');
  if (found === undefined || runs.length === 0) return null;
  const value = mean(runs.map((run) => run.reading_mW));
  const scatter = found.result.repeatability.reference ?? 0;
  return { value, standardUncertainty: (scatter * value) / Math.sqrt(runs.length) };
}

/** The wanted line and the infrared, from the power without and with the filter. */
function separated(
  { wanted, infrared }: ReturnType<typeof transmissions>,
  [unfiltered, filtered]: readonly [Estimate | null, Estimate | null],
  commonRelativeUncertainty: number,
): Omit<InfraredResult, 'source' | 'filter' | 'wavelength_nm'> {
  if (!wanted || !infrared || unfiltered === null || filtered === null) {
    return {
      wanted_mW: null,
      infrared_mW: null,
      infrared_fraction: null,
      infrared_fraction_standard_uncertainty: null,
      why: 'The filter needs transmissions at the wanted line and in the infrared, and both series need readings of the reference.',
    };
  }
  const through = (one: Filter['transmissions'][number]): Estimate => ({
    value: one.transmission,
    standardUncertainty: one.standard_uncertainty,
  });
  const leak = infraredLeak({
    unfiltered_mW: unfiltered,
    filtered_mW: filtered,
    wantedTransmission: through(wanted),
    infraredTransmission: through(infrared),
    commonRelativeUncertainty,
  });
  return {
    wanted_mW: leak.wanted_mW?.value ?? null,
    infrared_mW: leak.infrared_mW?.value ?? null,
    infrared_fraction: leak.infraredFraction?.value ?? null,
    infrared_fraction_standard_uncertainty: leak.infraredFraction?.standardUncertainty ?? null,
    why: `${leak.why} Readings of the reference; both series are taken to have had the same power.`.trim(),
  };
}
