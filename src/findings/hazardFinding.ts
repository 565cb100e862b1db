/** What the sources can emit against what their labels say, judged on the safe side. */
import type { HazardResult, Result } from '../vocabulary.js';
import { type Finding, finding, numbers, table, WAVELENGTH, words } from './finding.js';
import { formatNumber, formatPower } from './formatNumber.js';
import { hazardZone, labelVerdict, labelWords } from './words.js';

export function hazardFinding(result: Result): Finding {
  return finding({
    id: 'hazard',
    title: 'Highest power and class by the limits of IEC 60825-1, whole beam, continuous wave',
    ...table(result.hazard, [
      [words('Source'), (one) => one.source],
      [WAVELENGTH, (one) => one.wavelength_nm],
      [numbers('power', 'Highest seen', 'mW'), (one) => one.highest_mW],
      [numbers('bound', 'Up to', 'mW'), (one) => one.upper_mW],
      [words('Seen in'), (one) => one.seen_in ?? 'no reading'],
      [words('Class'), hazardZone],
      [words('Label says'), labelWords],
      [words('Label against data'), labelVerdict],
    ]),
    notes: [
      'Judged by the most that was seen: both meters, peaks, cold starts and left-out runs included, candidate readings corrected, uncertainty added; where a certificate or a third meter leaves more open, that counts. A class without a further word lies above the limit of every lower class and below its own with uncertainty to spare.',
    ],
    sentences: moreHazardous(result),
    empty: 'No source was judged.',
  });
}

/** Sources that are, or may be, more hazardous than their label. */
export function moreHazardous(result: Result): readonly string[] {
  return result.hazard.filter((one) => one.label_understates === true).map(unsafe);
}

/** "violet marker, 405 nm: more hazardous than labelled. Up to 99.71 mW, class 3B; …" */
function unsafe(one: HazardResult): string {
  const upper =
    one.upper_mW === null
      ? 'Nothing bounds its power'
      : `Up to ${formatPower(one.upper_mW, { up: true })}`;
  const worst =
    one.class === null ? '' : `, class ${one.class}${one.decided ? '' : ' not excluded'}`;
  return `${one.source}, ${formatNumber(one.wavelength_nm)} nm: ${labelVerdict(one)}. ${upper}${worst}; its label says ${labelWords(one)}.`;
}

/** The others in a few words, so that nobody takes silence for an answer. */
export function otherLabels(result: Result): string {
  const others = result.hazard.filter((one) => one.label_understates !== true);
  const open = others.filter((one) => one.label_understates === null).map((one) => one.source);
  const kept = others.length - open.length;
  return [
    open.length === 0 ? '' : `Label neither shown right nor wrong: ${open.join(', ')}.`,
    kept === 0 ? '' : `${kept === 1 ? 'One label is' : `${kept} labels are`} not contradicted.`,
  ]
    .filter((part) => part !== '')
    .join(' ');
}
