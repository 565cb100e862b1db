/** A moment as typed into a table. */
import type { NumberCell } from './numberCell.js';

/** How a moment was written; moments of different kinds cannot be compared. */
export type MomentKind = 'seconds' | 'date and time' | 'date and time with zone' | 'time of day';

export interface Moment {
  readonly kind: MomentKind;
  /** Seconds from the origin of its kind. */
  readonly seconds: number;
  /** Its day as written; `null` where none is. */
  readonly day: string | null;
}

export const MOMENT_EXPECTED =
  'a time in seconds (75.5), or as ISO 8601 writes it (2024-05-01T10:31:20 or 10:31:20)';

const DATE =
  /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d+)?))?(Z|[+-]\d\d(?::?\d\d)?)?$/i;
const CLOCK = /^T?(\d\d?):(\d\d):(\d\d(?:[.,]\d+)?)$/i;

/** Reads seconds (`number` is the cell read as a number) or ISO 8601; `null` if it is neither. */
export function moment(text: string, number: NumberCell): Moment | null {
  if ('value' in number) return { kind: 'seconds', seconds: number.value, day: null };
  const clock = CLOCK.exec(text);
  if (clock !== null) {
    const [, hours = '', minutes = '', seconds = ''] = clock;
    const time = timeOfDay(hours, minutes, seconds);
    return time === null ? null : { kind: 'time of day', seconds: time, day: null };
  }
  const date = DATE.exec(text);
  if (date === null) return null;
  const [, year, month, day, hours = '', minutes = '', seconds = '0', zone] = date;
  const midnight = Date.UTC(Number(year), Number(month) - 1, Number(day));
  const time = timeOfDay(hours, minutes, seconds);
  const offset = zoneOffset(zone);
  const real = new Date(midnight).toISOString().startsWith(`${year}-${month}-${day}`);
  if (!real || time === null || offset === null) return null;
  return {
    kind: zone === undefined ? 'date and time' : 'date and time with zone',
    seconds: midnight / 1000 + time - offset,
    day: `${year}-${month}-${day}`,
  };
}

function timeOfDay(hours: string, minutes: string, seconds: string): number | null {
  const parts = [Number(hours), Number(minutes), Number(seconds.replace(',', '.'))] as const;
  if (parts[0] > 23 || parts[1] > 59 || parts[2] >= 60) return null;
  return parts[0] * 3600 + parts[1] * 60 + parts[2];
}

function zoneOffset(zone: string | undefined): number | null {
  if (zone === undefined || zone.toUpperCase() === 'Z') return 0;
  const [, sign, hours, minutes = '0'] = /^([+-])(\d\d):?(\d\d)?$/.exec(zone) ?? [];
  const seconds = Number(hours) * 3600 + Number(minutes) * 60;
  if (!(seconds < 86_400) || Number(minutes) > 59) return null;
  return sign === '-' ? -seconds : seconds;
}
