/** Findings that stand only where there is something to say: power, opinions, changes, settings, infrared. */

import { decidingBend } from '../power/analysePower.js';
import type { PowerDependence, Result } from '../vocabulary.js';
import { thenAndNowSentences } from './changeSentences.js';
import { type Finding, finding, numbers, table, WAVELENGTH, withHalf, words } from './finding.js';
import {
  BEND_WORDS,
  CHANGE_WORDS,
  COMPARED_WORDS,
  comparisonWords,
  controlWords,
  KIND_WORDS,
  OFFSET_WORDS,
  placeOf,
  SUPPORT_WORDS,
  spoken,
} from './findingWords.js';
import { formatNumber } from './formatNumber.js';
import { levelSentences, unitOfLevels } from './levelSentences.js';
import { meansSentences } from './meansSentences.js';
import { independence, threeInstruments } from './opinionSentences.js';
import { powerSentences } from './powerSentences.js';
import { firstToLast, placesOnChart, reCheckSentences } from './reCheckSentences.js';
import { confidenceWords } from './words.js';

/** Whether the factor depends on the power. */
export function power(result: Result): Finding {
  return finding({
    id: 'power',
    title: `Departure from one gain at the highest power (${confidenceWords(result.confidence)} intervals)`,
    ...table(spoken([...result.power.by_wavelength, result.power.overall]), [
      [words('Wavelength'), placeOf],
      [numbers('count', 'Series'), (one) => one.series.length],
      [numbers('number', 'Powers', 'mW'), powersText],
      [numbers('percent', 'Bend at the top', '%'), (one) => decidingBend(one).at_top_percent],
      [
        numbers('percent', 'Interval', '%'),
        (one) => [decidingBend(one).low_percent, decidingBend(one).high_percent],
      ],
      [words('Bend'), (one) => BEND_WORDS[decidingBend(one).verdict]],
      [words('Offset'), (one) => OFFSET_WORDS[one.offset.verdict]],
      [
        numbers('percent', 'Error of a series left out', '%'),
        (one) => one.prediction.rms_error_percent,
      ],
    ]),
    notes: [
      'A heat sink that warms makes a thermal meter read low at the top of its range; a zero that is off shows at the bottom. One series is one point here. The last column lets the other series correct the one left out; what the reference itself is off does not show there. Where the candidate reads low at the top, one factor for all powers makes a laser look weaker than it is.',
    ],
    sentences: powerSentences(result),
    empty: 'No wavelength has more than one series.',
  });
}

/** "213 to 1850", in mW. */
function powersText({ range_mW: range }: PowerDependence): string | null {
  return range === null
    ? null
    : range.map((one) => formatNumber(one, { digits: 3, keepZeros: true })).join(' to ');
}

/** Limits of agreement at the level of the reading; no rows where constant limits serve. */
export function agreementByLevel(result: Result): Finding {
  const { against_level: found } = result.agreement;
  const unit = unitOfLevels(found);
  return finding({
    id: 'levels',
    title: `Limits of agreement at the level of the reading; intervals for ${confidenceWords(result.confidence)}`,
    ...table(found.description === 'changes-with-level' ? found.levels : [], [
      [words('Level'), (one) => one.place],
      [numbers('power', 'Mean of both', 'mW'), (one) => one.level_mW],
      [numbers('percent', 'Bias', unit), (one) => one.bias],
      [numbers('percent', 'Its interval', unit), (one) => one.bias_interval],
      [numbers('percent', 'Limits', unit), (one) => [one.low, one.high]],
      [numbers('percent', 'Interval of the lower', unit), (one) => one.low_interval],
      [numbers('percent', 'Interval of the upper', unit), (one) => one.high_interval],
    ]),
    sentences: levelSentences(result.agreement),
    empty: 'One pair of limits serves at every level, or too few levels were measured.',
  });
}

/** What the means of the series say, each counting once. */
export function means(result: Result): Finding {
  return finding({
    id: 'means',
    title: 'What the means of the series say',
    columns: [],
    rows: [],
    notes: [
      'Each series counts once, because laps of one series repeat what is peculiar to it. Not shown is no no: with few series hardly anything can be shown. All of it is about the mean relative to this reference, whose own error is not in it, and not about a single reading; what is corrected is judged on the data that the factors come from.',
    ],
    sentences: meansSentences(result),
    empty: '',
  });
}

/** Values from elsewhere beside what the two meters show. */
export function opinions(result: Result): Finding {
  const compared = result.opinions.flatMap((one) => one.comparisons.map((ours) => ({ one, ours })));
  return finding({
    id: 'opinions',
    title:
      'Values from elsewhere against the power that each meter shows; ± is one standard uncertainty',
    ...table(compared, [
      [words('Source'), ({ one }) => one.source],
      [
        words('Value from'),
        ({ one }) =>
          `${KIND_WORDS[one.kind]}${one.date === null ? '' : `, ${one.date}`}: ${SUPPORT_WORDS[one.supports]}`,
      ],
      [
        numbers('power', 'Value', 'mW'),
        ({ one }) => ({ value: one.value_mW, U: one.standard_uncertainty_mW, both: true }),
      ],
      [words('Meter'), ({ ours }) => COMPARED_WORDS[ours.meter]],
      [
        numbers('power', 'Shows', 'mW'),
        ({ ours }) => ({ value: ours.value_mW, U: ours.standard_uncertainty_mW, both: true }),
      ],
      [numbers('percent', 'Difference', '%'), ({ ours }) => ours.difference_percent],
      [numbers('percent', 'ζ'), ({ ours }) => ours.zeta],
      [numbers('percent', 'En'), ({ ours }) => ours.en],
      [words('Outcome'), ({ ours }) => comparisonWords(ours)],
    ]),
    notes: [
      'Two meters that differ cannot say which of them is right. ζ is the difference over its standard uncertainty: up to 2 agrees, from 3 on disagrees. En is the same with expanded uncertainties and needs both stated. A maker’s as-new value only shows a meter to read too high.',
      ...independence(result),
    ],
    sentences: threeInstruments(result),
    empty: 'No value from elsewhere was given.',
  });
}

/** Factors now against those of an earlier study. */
export function changes(result: Result): Finding {
  const found = result.then_and_now;
  return finding({
    id: 'then-and-now',
    title: `Factors now against those of the earlier study (${confidenceWords(result.confidence)} intervals)`,
    ...table(found?.wavelengths ?? [], [
      [WAVELENGTH, (one) => one.wavelength_nm],
      [numbers('value', 'K then'), (one) => one.earlier_factor],
      [numbers('value', 'K now'), (one) => one.factor],
      [
        numbers('percent', 'Change', '%'),
        (one) => withHalf(one.change_percent, { low: one.low_percent, high: one.high_percent }),
      ],
      [numbers('percent', 'Interval', '%'), (one) => [one.low_percent, one.high_percent]],
      [words('Verdict'), (one) => CHANGE_WORDS[one.verdict]],
    ]),
    notes:
      found === null ? [] : [`Data fingerprint of the earlier study: ${found.earlier_data_sha256}`],
    sentences: found === null ? [] : thenAndNowSentences(found),
    empty: found === null ? 'No earlier factors were given.' : 'Neither study has a factor.',
  });
}

/** The factors of several studies on control charts: the charts, and their values. */
export function reChecks({
  re_checks: charts,
  confidence,
}: Pick<Result, 're_checks' | 'confidence'>): {
  readonly charts: Finding;
  readonly values: Finding;
} {
  const values = (charts ?? []).flatMap((chart) => {
    const places = placesOnChart(chart);
    return chart.values.map((one, i) => ({ chart, one, place: places[i] }));
  });
  return {
    charts: finding({
      id: 're-checks',
      title: 'Control charts of the factor, one a wavelength',
      ...table(charts ?? [], [
        [WAVELENGTH, (one) => one.wavelength_nm],
        [
          numbers('count', 'Values'),
          (one) => one.values.filter((value) => value.factor !== null).length,
        ],
        [numbers('value', 'Centre'), (one) => one.centre],
        [numbers('number', 'Limits from the scatter'), (one) => one.limits],
        [numbers('number', 'Limits from the uncertainty'), (one) => one.limits_from_uncertainty],
        [numbers('percent', 'Scatter over uncertainty'), (one) => one.scatter_ratio],
        [words('First to last'), (one) => firstToLast(one)],
        [words('Verdict'), (one) => controlWords(one)],
      ]),
      notes: [
        'One comparison asks whether two factors differ; the chart asks whether anything but chance is at work in all of them. A point out of control asks for a cause, and is no cause by itself.',
      ],
      sentences: reCheckSentences(charts),
      empty: 'None of the studies has a factor.',
    }),
    values: finding({
      id: 're-check-values',
      title: `The values, with ${confidenceWords(confidence)} intervals without what all have in common`,
      ...table(values, [
        [WAVELENGTH, ({ chart }) => chart.wavelength_nm],
        [words('No.'), ({ place }) => String(place ?? 'none')],
        [words('Study'), ({ one }) => one.title],
        [numbers('value', 'K'), ({ one }) => one.factor],
        [numbers('number', 'Interval'), ({ one }) => [one.low, one.high]],
        [numbers('fraction', 'u', '%'), ({ one }) => one.relative_standard_uncertainty],
        [words('Remarks'), ({ one }) => one.why],
      ]),
      empty: 'There are no values.',
    }),
  };
}

/** What one meter shows under two wavelength settings. */
export function settings(result: Result): Finding {
  return finding({
    id: 'settings',
    title: `What one meter shows under two settings on the same source (${confidenceWords(result.confidence)} intervals)`,
    ...table(result.settings, [
      [words('Series'), (one) => one.series],
      [words('Source'), (one) => `${one.source}, ${formatNumber(one.wavelength_nm)} nm`],
      [words('Meter'), (one) => one.meter],
      [numbers('number', 'From', 'nm'), (one) => one.from_nm],
      [numbers('number', 'To', 'nm'), (one) => one.to_nm],
      [numbers('value', 'Reading changes by a factor of'), (one) => withHalf(one.ratio, one)],
      [numbers('number', 'Interval'), (one) => [one.low, one.high]],
      [words('Remarks'), (one) => one.why],
    ]),
    empty: 'No series measured what a wavelength setting is worth.',
  });
}

/** Infrared beside the wanted line, where series with and without a filter were taken. */
export function infrared(result: Result): Finding {
  return finding({
    id: 'infrared',
    title: 'Light told apart by a filter of known transmission; ± is one standard uncertainty',
    ...table(result.infrared, [
      [words('Source'), (one) => `${one.source}, ${formatNumber(one.wavelength_nm)} nm`],
      [words('Filter'), (one) => one.filter],
      [numbers('power', 'Wanted line', 'mW'), (one) => one.wanted_mW],
      [numbers('power', 'Infrared', 'mW'), (one) => one.infrared_mW],
      [
        numbers('fraction', 'Infrared part of the reading', '%'),
        (one) => ({
          value: one.infrared_fraction,
          U: one.infrared_fraction_standard_uncertainty,
          both: true,
        }),
      ],
      [words('Remarks'), (one) => one.why],
    ]),
    notes: [
      'A frequency-doubled source can emit infrared that a broadband sensor counts as visible light, that nobody sees and against which eyewear for the visible line does not protect.',
    ],
    empty: 'No source was measured with and without a filter.',
  });
}
