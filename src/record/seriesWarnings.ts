/** What the runs of a series give cause to say without being wrong. */
import { counted } from '../findings/formatNumber.js';
import type { MeterRole, Run, RunOrder, Warning } from '../vocabulary.js';
import { either } from './faults.js';
import { firstMeter } from './laps.js';
import { METERS, runsOn } from './meters.js';
import type { RunEntry } from './runTable.js';
import type { StudySettings } from './studySettings.js';

/** Laps that do not start with the meter that a stated order wants. */
export function orderWarnings(id: string, runs: readonly Run[], order: RunOrder): Warning[] {
  const firsts = new Map<number, MeterRole>();
  for (const run of runs) {
    if (run.lap !== null && !firsts.has(run.lap)) firsts.set(run.lap, run.meter);
  }
  const odd = [...firsts].find(([lap, meter]) => meter !== firstMeter(order, lap));
  if (odd === undefined) return [];
  return [
    {
      code: 'order-differs',
      series: id,
      message: `study.json states the order ${order}, but lap ${odd[0]} of the series "${id}" starts with the ${odd[1]}. The rows of runs.csv count, not the stated order.`,
    },
  ];
}

/** A meter whose wavelength setting changes while it is compared. */
export function settingWarnings(id: string, runs: readonly Run[]): Warning[] {
  return METERS.flatMap((meter) => {
    const settings = new Set(runsOn(runs, meter).flatMap((run) => run.setting_nm ?? []));
    if (settings.size < 2) return [];
    return [
      {
        code: 'setting-mixed',
        series: id,
        message: `The wavelength setting of the ${meter} changes within the series "${id}" (${either([...settings].map(String))} nm); its readings before and after are not of one kind.`,
      },
    ];
  });
}

/** Readings and peaks above what a meter is rated for. */
export function ratedWarnings(
  id: string,
  entries: readonly RunEntry[],
  settings: StudySettings,
): Warning[] {
  return METERS.flatMap((role) => {
    const { name, rated_max_mW: rated } = settings[role];
    if (rated === null) return [];
    const rows = entries
      .filter(({ readings }) =>
        readings.some(({ meter, indicated_mW }) => meter === role && indicated_mW > rated),
      )
      .map((entry) => entry.row);
    if (rows.length === 0) return [];
    const which = rows.length > 5 ? `${rows.slice(0, 5).join(', ')} …` : rows.join(', ');
    return [
      {
        code: 'above-rated-max',
        series: id,
        message: `The series "${id}" has ${counted(rows.length, 'reading', 'readings')} above the ${rated} mW that the ${role} (${name}) is rated for (runs.csv, ${rows.length === 1 ? 'row' : 'rows'} ${which}). Such a reading may be wrong, and the sensor may have been damaged.`,
      },
    ];
  });
}
