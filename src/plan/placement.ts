import { argumentWrong } from '../error.js';
import { percentText } from '../findings/formatNumber.js';
import { DEFAULT_BETWEEN_SERIES, PLACEMENT_SD } from '../series/combineSeries.js';

/** How the heads are put back between series, as `protocol.placement` of study.json says it. */
export type PlacementWord = 'jig' | 'by-hand';

/** What a plan reckons with between series, and what study.json has to say for it. */
export interface PlannedPlacement {
  /** Relative standard deviation between series that the bench is expected to show. */
  readonly sd: number;
  /** What the study has to state as `between_series_percent` ÷ 100; `null`: nothing. */
  readonly stated: number | null;
  readonly note: string;
}

/**
 * A number is known from elsewhere: the study states it. A word is a guess, the same that the analysis
 * makes of it.
 *
 * @throws argument-wrong for a standard deviation that is no fraction from 0 to below 1, or another word
 */
export function plannedPlacement(placement?: number | PlacementWord): PlannedPlacement {
  if (placement === undefined) {
    return {
      sd: DEFAULT_BETWEEN_SERIES,
      stated: null,
      note: `How the heads are put back is not said: ${percentText(DEFAULT_BETWEEN_SERIES)} from series to series, as the analysis takes it.`,
    };
  }
  if (typeof placement === 'number') {
    if (!(placement >= 0 && placement < 1)) {
      throw argumentWrong('A spread between series must be a fraction.', placement, '0.01 for 1 %');
    }
    return {
      sd: placement,
      stated: placement,
      note: `${percentText(placement)} from series to series, known from elsewhere: between_series_percent: ${+(100 * placement).toPrecision(6)} in study.json.`,
    };
  }
  const sd = PLACEMENT_SD[placement];
  if (sd === undefined)
    throw argumentWrong('A placement is a number or a word.', placement, 'jig or by-hand');
  return {
    sd,
    stated: null,
    note: `Placement "${placement}": ${percentText(sd)} from series to series is guessed (common practice, no source), as the analysis does where protocol.placement says so.`,
  };
}
