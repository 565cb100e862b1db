import { requireOptions } from '../statistics/options.js';
import { LEAST_LAPS } from '../vocabulary.js';
import { plannedRuns, type RunSheetOptions, SHEET_OPTIONS } from './runSheet.js';

export interface RunSheetTextOptions extends RunSheetOptions {
  readonly title?: string;
  /** Time constant of the slower meter in s; left out: the sheet asks for it. */
  readonly slowerTimeConstant_s?: number;
  /** When each reading is taken, s after switch-on; left out: five time constants. */
  readonly readAt_s?: number;
  /** Warm-up of the source before the first run, in minutes (default 10). */
  readonly warmUp_min?: number;
}

/** What has to be read before a laser is switched on; a list is no substitute for it. */
export const CAUTIONS: readonly string[] = [
  'Labels are often wrong by a factor of ten. Until its power is measured, treat the laser as one of the highest class.',
  'Never look into the beam or at its mirror reflection, and never aim it at people, animals, vehicles or aircraft. Eyewear is no licence to look into the beam.',
  'Wear eyewear made and rated for the wavelength and the power, invisible parts included (a green laser may emit infrared). Sunglasses and goggles for another colour do not protect.',
  'Keep the beam below eye level and end it on a matt beam stop that does not burn. Take off rings and watches; cover what shines.',
  'Fix laser and meter head so that neither can move; tilt the head a few degrees so that the reflection misses the laser and ends on matt black.',
  'Block the beam while heads are changed. Nobody without eyewear in the room, the door closed.',
  'A focused beam can damage the coating of a head and start a fire: spread the beam over a third to two thirds of the aperture.',
  'This list does not replace IEC 60825-1, the local rules, or a laser safety officer; where they say otherwise, they are right.',
];

/**
 * The sheet to print for the bench: cautions, how to take a reading, and the runs in their order
 * with room to write.
 *
 * @returns Markdown
 * @throws argument-wrong as `runSheet`, and for a time constant or warm-up that is no number above
 *   zero
 */
export function runSheetText(options: RunSheetTextOptions): string {
  const {
    title = 'Comparison of two power meters',
    slowerTimeConstant_s: tau,
    readAt_s,
    warmUp_min: warm = 10,
  } = requireOptions(options, SHEET_OPTIONS);
  const runs = plannedRuns(options);
  const wait =
    readAt_s !== undefined
      ? `the same time for both meters: ${readAt_s} s`
      : tau === undefined
        ? 'the same time for both meters, at least five time constants of the slower one: ______ s (time constant: ______ s)'
        : `the same time for both meters, at least five time constants of the slower one: ${Math.ceil(5 * tau)} s`;
  const few =
    options.laps < LEAST_LAPS
      ? ` These are fewer than the ${LEAST_LAPS} laps that a series should have: cold starts cannot be told.`
      : '';
  const series = [...new Set(runs.map((run) => run.series))].map((name) => {
    const own = runs.filter((run) => run.series === name);
    return [
      `## Series ${escaped(name)}: ${escaped(own[0].source)}, ${own[0].wavelength_nm} nm`,
      '',
      `A meter that has to be told the wavelength is set to ${own[0].wavelength_nm} nm. Write down what it was really set to: reference ______ nm, candidate ______ nm.`,
      '',
      '| run | lap | meter | zero mW | started at | reading mW | peak mW | leave out because | note |',
      '|---:|---:|---|---|---|---|---|---|---|',
      ...own.map((run) => `| ${run.run} | ${run.lap} | ${run.meter} | | | | | | |`),
      '',
    ].join('\n');
  });
  return [
    `# ${escaped(title)}`,
    '',
    'Date ____________  Done by ____________  Room temperature ______ °C',
    '',
    '## Before the laser is switched on',
    '',
    ...CAUTIONS.map((caution) => `- [ ] ${caution}`),
    '',
    '## How each reading is taken',
    '',
    `1. Warm the source up for at least ${warm} minutes before the first run, and keep it as warm between runs. (The first seconds of a cold laser may be its strongest: note that peak, it counts for the hazard.)`,
    '2. Beam blocked: wait until the indication rests, and write it down as the zero.',
    `3. Open the beam, note the time, and read after ${wait}.`,
    '4. Write down the settled reading, and the highest one seen as the peak.',
    '5. Block the beam, change the head, let it cool until its zero rests again.',
    '6. Keep to the order below. A run that went wrong stays in the table, with the reason under "leave out because"; never leave one out because it looks odd.',
    `7. Take all ${options.laps} laps of each series, and stop neither early nor late because of what the numbers say.${few}`,
    '',
    ...series,
  ].join('\n');
}

/** Names are the user's: a bar would end the cell, a line break the row. */
function escaped(text: string): string {
  return text.replace(/\s+/g, ' ').replace(/[\\|`*_<>#[\]]/g, '\\$&');
}
