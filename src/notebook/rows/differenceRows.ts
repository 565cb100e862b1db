import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import type { AgreementResult, Result, SeriesResult } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** Candidate minus reference, series by series. */
export function differenceRows(result: Result): readonly TableRow[] {
  return result.series.map((series) => ({
    Series: series.id,
    'Wavelength in nm': series.wavelength_nm,
    ...spread(series),
  }));
}

/** The same over the whole study: as read, and after the correction. */
export function agreementRows(result: Result): readonly TableRow[] {
  const { agreement } = result;
  return [
    { Readings: 'as read', ...limits(agreement.difference_percent, agreement.limits_percent) },
    {
      Readings: 'corrected',
      ...limits(agreement.corrected_difference_percent, agreement.corrected_limits_percent),
    },
  ];
}

function spread(series: SeriesResult): TableRow {
  const { difference_mW, difference_percent, limits_percent } = series;
  return {
    'Mean in mW': formatNumber(difference_mW.mean, { digits: 3 }),
    'Mean in %': formatNumber(difference_percent.mean, { digits: 3 }),
    'Interval of the mean in %': formatInterval(difference_percent.low, difference_percent.high),
    'Standard deviation in %': formatNumber(difference_percent.sd, { digits: 2 }),
    'Limits of agreement in %': formatInterval(limits_percent.low, limits_percent.high),
  };
}

function limits(
  difference: AgreementResult['difference_percent'],
  found: AgreementResult['limits_percent'],
): TableRow {
  return {
    'Mean difference in %': formatNumber(difference.mean, { digits: 3 }),
    'Lower limit in %': formatNumber(found.low, { digits: 3 }),
    'its interval': formatInterval(...found.low_interval),
    'Upper limit in %': formatNumber(found.high, { digits: 3 }),
    ' its interval': formatInterval(...found.high_interval),
  };
}
