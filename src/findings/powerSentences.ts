import { decidingBend } from '../power/analysePower.js';
import type { LeftOutPrediction, PowerBend, PowerDependence, Result } from '../vocabulary.js';
import { BEND_WORDS, placeOf, spoken } from './findingWords.js';
import {
  formatEstimate,
  formatInterval,
  formatNumber,
  formatProbability,
  formatWithin,
  TWO_DIGITS,
} from './formatNumber.js';
import { withSign } from './words.js';

/** Whether the factor depends on the power, and how far off a series is that it has not seen. */
export function powerSentences(result: Result): readonly string[] {
  const { by_wavelength, overall } = result.power;
  const entries = spoken([...by_wavelength, overall]);
  if (entries.length === 0) {
    return [
      'Every wavelength was measured once: whether the factor depends on the power, and what it does to a series it has not seen, cannot be told.',
    ];
  }
  return entries.flatMap(entrySentences);
}

function entrySentences(one: PowerDependence): string[] {
  const place = placeOf(one);
  const offset =
    one.offset.offset_mW === null
      ? []
      : [
          `${place}, offset: ${formatEstimate(one.offset.offset_mW, one.offset.low_mW, one.offset.high_mW, { unit: 'mW' })}. ${one.offset.why}`,
        ];
  return [
    ...bendSentence(place, decidingBend(one)),
    ...offset,
    ...predictionSentence(place, one.prediction),
  ];
}

function bendSentence(head: string, bend: PowerBend): string[] {
  if (bend.at_top_percent === null) return [];
  const p = bend.p === null ? '' : `, p ${withSign(formatProbability(bend.p))}`;
  const size = formatWithin(bend.at_top_percent, bend.low_percent, bend.high_percent);
  const interval = formatInterval(bend.low_percent, bend.high_percent);
  return [
    `${head}: ${BEND_WORDS[bend.verdict]}, ${size} % at ${formatNumber(bend.top_mW, { digits: 3 })} mW (${interval} %${p}).`,
  ];
}

function predictionSentence(place: string, found: LeftOutPrediction): string[] {
  if (found.rms_error_percent === null) return [];
  const off = formatNumber(found.rms_error_percent, TWO_DIGITS);
  const raw = formatNumber(found.uncorrected_rms_error_percent, TWO_DIGITS);
  return [
    `${place}: a series left out is off by ${off} % (root mean square of ${found.predicted} of ${found.series.length} series) when the others correct it, and by ${raw} % uncorrected.`,
  ];
}
