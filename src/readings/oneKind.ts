/**
 * One kind of reading: before any question is asked, every reading is brought to what its meter would
 * have shown settled, with its zero taken off, corrected by its certificate, at the wavelength setting of the source. What cannot
 * be brought there is named.
 */
import type { MeterRole, ReadingKind, SettingResult, Study, Warning } from '../vocabulary.js';
import { calibrated, certificateWarnings } from './certificate.js';
import type { TracedGains } from './lacking.js';
import { atOwnSetting, type SettingStates, scaled } from './settings.js';
import { type SettledSource, type Settling, type SettlingState, settling } from './settled.js';
import type { TimeConstants } from './timeConstants.js';
import { withTracedPeaks, zeroedTraces } from './traces.js';
import { type ZeroStates, zeroed } from './zeros.js';

export interface OneKind {
  /** The study with every reading of one kind; `scale` of a run says what it was multiplied by. */
  readonly study: Study;
  readonly kind: ReadingKind;
  readonly settings: readonly SettingResult[];
  /** What settling and lag leave open, by source. */
  readonly settling: ReadonlyMap<string, SettlingState>;
  /** Reading ÷ power by the traces of a source, where no reading time tells. */
  readonly traced: ReadonlyMap<string, TracedGains>;
  readonly constants: TimeConstants;
  /** Why the readings of a meter may lie anywhere below the power; `null` where they do not. */
  readonly open: Readonly<Record<MeterRole, string | null>>;
  readonly zeros: ZeroStates;
  readonly settingStates: SettingStates;
  readonly warnings: readonly Warning[];
}

/**
 * @param study as read: readings in mW with the recorded zeros subtracted
 * @param settingRatios what the settings of a series under two of them are worth
 */
export function oneKindOfReading(
  study: Study,
  settingRatios: (series: Study['series'][number]) => readonly SettingResult[],
): OneKind {
  const zeros = zeroed(study);
  const dark = calibrated({ ...zeros.study, traces: zeroedTraces(zeros.study) });
  const settings = dark.series.filter((one) => one.kind === 'setting').flatMap(settingRatios);
  const settled = settling(dark);
  const set = atOwnSetting(withTracedPeaks(dark), settings);
  return {
    study: { ...set.study, series: set.study.series.map((one) => brought(one, settled)) },
    kind: settled.kind,
    settings,
    settling: new Map([...settled.bySource].map(([name, { state }]) => [name, state])),
    traced: new Map([...settled.bySource].map(([name, { traced }]) => [name, traced])),
    constants: settled.constants,
    open: settled.open,
    zeros: zeros.states,
    settingStates: set.states,
    warnings: [
      ...certificateWarnings(study),
      ...zeros.warnings,
      ...set.warnings,
      ...settled.warnings,
    ],
  };
}

/** Settled readings. A peak stays: nobody knows when in the run it was seen. */
function brought(series: Study['series'][number], { bySource }: Settling) {
  // Every source of a series is one of the study.
  const { gain } = bySource.get(series.source) as SettledSource;
  return { ...series, runs: series.runs.map((run) => scaled(run, 1 / gain[run.meter], 1)) };
}
