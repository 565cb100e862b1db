import type { MeterRole, Series } from '../vocabulary.js';

/** One run against the first reading of its own meter: two meters never meet in it. */
export interface PlotPoint {
  readonly run: number;
  readonly meter: MeterRole;
  /** Percent above the first reading that counts. */
  readonly percent: number;
  readonly excluded: boolean;
}

/** The runs of a series, each meter on its own scale. */
export function plotPoints({ runs }: Series): readonly PlotPoint[] {
  const usable = runs.filter(({ reading_mW }) => reading_mW > 0);
  return usable.map(({ run, meter, reading_mW, exclude }) => {
    const own = usable.filter((one) => one.meter === meter);
    const first = own.find((one) => one.exclude === null) ?? own[0];
    const percent = 100 * (reading_mW / (first?.reading_mW ?? reading_mW) - 1);
    return { run, meter, percent, excluded: exclude !== null };
  });
}
