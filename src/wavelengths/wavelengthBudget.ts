/** What the budget of a wavelength holds, and what it lacks. */

import type { Steps } from '../readings/displayStep.js';
import type { OneKind } from '../readings/oneKind.js';
import type { SettlingState } from '../readings/settled.js';
import { METERS, runsOn } from '../record/meters.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import type { CombinedSeries } from '../series/combineSeries.js';
import { stepUncertainty } from '../statistics/roundedDisplay.js';
import { extremes, mean } from '../statistics/summary.js';
import type { MeterRole, Run, Study, Suspect } from '../vocabulary.js';
import { type Collected, collect, lacking, type ShapedInput, scattered } from './collected.js';
import {
  calibration,
  referenceLimits,
  resolution,
  setting,
  settling,
  zero,
} from './wavelengthContributions.js';
import type { Member } from './wavelengthMembers.js';

/** What the analysis of the wavelengths starts from. */
export interface WavelengthInput {
  readonly study: Study;
  readonly series: readonly SeriesAnalysis[];
  readonly readings: OneKind;
  /** Series that hold more than the wanted line, by id: they do not speak for their wavelength. */
  readonly unisolated: ReadonlySet<string>;
  readonly steps: Steps;
  /** Entries that look like slips and are not settled. */
  readonly suspects: readonly Suspect[];
}

/** Name of the contribution that placements make. */
export const BETWEEN_SERIES = 'between series (placement, source)';

/** The scatter of the series and what differs between them, as lines of a budget. */
export function scatterOf(
  members: readonly Member[],
  combined: CombinedSeries,
): readonly ShapedInput[] {
  const { repeatability, between } = combined;
  const note = `scatter of the runs about the drift, ${members.length} series`;
  return [
    ...(repeatability === null
      ? []
      : [scattered('repeatability', 'repeatability', repeatability, note)]),
    scattered('between-series', BETWEEN_SERIES, between, between.note, between.type),
  ];
}

/** Collects the contributions to the factor of one wavelength, or of one level of it. */
export function contributions(
  nm: number,
  members: readonly Member[],
  scatter: readonly ShapedInput[],
  input: WavelengthInput,
): Collected {
  const { study, steps } = input;
  const sources = [...new Set(members.map(({ analysis }) => analysis.result.source))];
  const states = sources.flatMap((name) => input.readings.settling.get(name) ?? []);
  return collect([
    { inputs: scatter, missing: [] },
    ...(members.every(({ analysis }) => analysis.model !== null)
      ? []
      : [
          lacking(
            'drift',
            'drift: series of a lap or two cannot show it, and one step of it may be in the factor',
          ),
        ]),
    calibration(study.reference, nm),
    referenceLimits(study.reference, study.record),
    ...METERS.map((meter) =>
      resolution(meter, lastingRoundingOf(members, meter, steps[meter]), steps[meter]),
    ),
    ...METERS.map((meter) => zero(meter, steps[meter], zerosOf(members, meter, input.readings))),
    ...METERS.map((meter) =>
      setting(
        {
          meter: study[meter],
          wavelength_nm: nm,
          series: settingsOf(members, meter, input.readings),
        },
        input.readings.settings,
      ),
    ),
    ...worstOf(states).map(settling),
  ]);
}

/** What is known of a meter's zero in each series, and the lowest indication that it bears on. */
function zerosOf(members: readonly Member[], meter: MeterRole, { zeros }: OneKind) {
  return members.flatMap(({ analysis }) => {
    const state = zeros.get(analysis.result.id)?.[meter];
    const shown = runsOn(runsOf(analysis), meter).map(indicated);
    return state === undefined ? [] : [{ ...state, level_mW: extremes(shown)[0] }];
  });
}

const settingsOf = (members: readonly Member[], meter: MeterRole, { settingStates }: OneKind) =>
  members.flatMap(({ analysis }) => settingStates.get(analysis.result.id)?.[meter] ?? []);

/** What the display showed less its zero: display step and zero bear on that. */
const indicated = (run: Run) => run.reading_mW / run.scale;

function runsOf({ model, laps }: SeriesAnalysis): readonly Run[] {
  return model !== null ? model.runs : laps.flatMap((lap) => [lap.reference, lap.candidate]);
}

/**
 * What a display's step leaves in the mean of the series. Series that show the same number are
 * rounded alike, and more of them do not average that out; series at different levels are rounded
 * independently. Series too short for a model of their own keep the whole step (step/√12).
 */
function lastingRoundingOf(
  members: readonly Member[],
  meter: MeterRole,
  step_mW: number | null,
): number {
  if (step_mW === null) return 0;
  const byNumber = new Map<number, number>();
  for (const { analysis } of members) {
    const level = mean(runsOn(runsOf(analysis), meter).map(indicated));
    const part = analysis.parts?.rounding[meter] ?? stepUncertainty(step_mW) / level;
    const shown = Math.round(level / step_mW);
    byNumber.set(shown, (byNumber.get(shown) ?? 0) + part);
  }
  return Math.hypot(...byNumber.values()) / members.length;
}

/** Of several sources the state that is worst where it is known, and one that is not known. */
function worstOf(states: readonly SettlingState[]): SettlingState[] {
  const size = ({ lag, unsettled }: SettlingState) => Math.hypot(lag ?? 0, unsettled ?? 0);
  const isKnown = ({ lag, unsettled }: SettlingState) => lag !== null || unsettled !== null;
  const known = states.filter(isKnown).sort((a, b) => size(b) - size(a));
  const unknown = states.filter((state) => !isKnown(state));
  return [...known.slice(0, 1), ...unknown.slice(0, 1)];
}
