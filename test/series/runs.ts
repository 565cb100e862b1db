/** Runs for the tests of pairing and screening. */
import { lapNumbers } from '../../src/record/laps.js';
import type { MeterRole, Run, Series } from '../../src/vocabulary.js';

/** Runs one after another: "RCRC" says which meter, `reading` what it shows at a time. */
export function runsOf(
  meters: string,
  reading: (run: {
    readonly meter: MeterRole;
    readonly time_s: number;
    readonly place: number;
  }) => number,
  time: (place: number) => number = (place) => place,
): Run[] {
  const roles = [...meters].map(
    (letter): MeterRole => (letter === 'R' ? 'reference' : 'candidate'),
  );
  const laps = lapNumbers(roles);
  return roles.map((meter, place) => ({
    run: place + 1,
    lap: laps[place] ?? null,
    row: place + 2,
    meter,
    reading_mW: reading({ meter, time_s: time(place), place }),
    peak_mW: null,
    zero_mW: null,
    scale: 1,
    time_s: time(place),
    setting_nm: null,
    exclude: null,
    checked: false,
    note: null,
  }));
}

export function seriesOf(runs: readonly Run[]): Series {
  return {
    id: 's',
    source: 'laser',
    wavelength_nm: 520,
    runs,
    timed: true,
    kind: 'comparison',
    filter: null,
  };
}
