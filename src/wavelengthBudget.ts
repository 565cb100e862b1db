/** What the budget of a wavelength holds, and what it lacks. */
import type { SeriesAnalysis, Steps } from './analyseSeries.js';
import type { SettlingAnalysis } from './analyseSettling.js';
import {
  type Collected,
  calibration,
  collect,
  resolution,
  setting,
  settling,
  zero,
} from './budget/index.js';
import type { CombinedSeries } from './correct/index.js';
import type { MeterRole, SettingResult, Study } from './vocabulary.js';
import type { Member } from './wavelengthMembers.js';

/** What the analysis of the wavelengths starts from. */
export interface WavelengthInput {
  readonly study: Study;
  readonly series: readonly SeriesAnalysis[];
  readonly settings: readonly SettingResult[];
  readonly settling: SettlingAnalysis;
  readonly steps: Steps;
  readonly seed: number;
}

/** Collects the contributions to the factor of one wavelength. */
export function contributions(
  nm: number,
  members: readonly Member[],
  combined: CombinedSeries,
  input: WavelengthInput,
): Collected {
  const { study, steps } = input;
  const scatter: Collected = {
    inputs: [
      ...(combined.repeatability === null
        ? []
        : [
            {
              name: 'repeatability',
              relative_standard_uncertainty: combined.repeatability.standardUncertainty,
              dof: combined.repeatability.dof,
              type: 'A' as const,
              shape: 'student' as const,
              note: `scatter of the runs about the drift, ${members.length} series`,
            },
          ]),
      {
        name: 'between series (placement, source)',
        relative_standard_uncertainty: combined.between.standardUncertainty,
        dof: combined.between.dof,
        type: 'A',
        shape: 'student',
        note: combined.between.note,
      },
    ],
    missing: [],
  };
  const runs = members.flatMap(({ analysis }) =>
    analysis.model !== null
      ? analysis.model.runs
      : analysis.laps.flatMap((lap) => [lap.reference, lap.candidate]),
  );
  const noDrift: Collected = {
    inputs: [],
    missing: members.every(({ analysis }) => analysis.model !== null)
      ? []
      : ['drift: series of a lap or two cannot show it, and one step of it may be in the factor'],
  };
  const of = (meter: MeterRole) => runs.filter((run) => run.meter === meter);
  const frozen = (meter: MeterRole) =>
    Math.sqrt(
      members.reduce((sum, { analysis }) => sum + (analysis.parts?.rounding[meter] ?? 0) ** 2, 0),
    ) / members.length;
  const meters: readonly MeterRole[] = ['reference', 'candidate'];
  const sources = [...new Set(members.map(({ analysis }) => analysis.result.source))];
  const states = sources.flatMap((name) => {
    const one = input.settling.bySource.get(name);
    return one === undefined ? [] : [one.state];
  });
  return collect([
    scatter,
    noDrift,
    calibration(study.reference),
    ...meters.map((meter) => resolution(meter, frozen(meter), steps[meter])),
    ...meters.map((meter) =>
      zero(
        meter,
        of(meter).every((run) => run.zero_mW !== null),
        steps[meter],
        Math.min(...of(meter).map((run) => run.reading_mW)),
      ),
    ),
    ...meters.map((meter) =>
      setting(
        {
          meter: study[meter],
          wavelength_nm: nm,
          settings_nm: of(meter).map((run) => run.setting_nm),
        },
        input.settings,
      ),
    ),
    ...states.slice(0, 1).map(settling),
  ]);
}
