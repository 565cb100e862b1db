import { OFFSET_WORDS, placeOf, spoken } from '../../findings/findingWords.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { bendText, powersText } from '../../report/powerTable.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** Whether the factor depends on the power, wavelength by wavelength and over all of them. */
export function powerRows(result: Result): readonly TableRow[] {
  const { by_wavelength, overall } = result.power;
  return spoken([...by_wavelength, overall]).map((one) => ({
    Wavelength: placeOf(one),
    Series: one.series.length,
    'Powers in mW': powersText(one),
    'Bend at the top in %, these series': bendText(one.bend),
    'Bend at the top in %, scatter of the study': bendText(one.bend_by_pooled_scatter),
    Offset: OFFSET_WORDS[one.offset.verdict],
    'Error of a series left out in %': formatNumber(one.prediction.rms_error_percent, {
      digits: 2,
    }),
  }));
}
