/** Days as a study writes them: 2024-11-08, 2024-11 or 2024, of which the first day counts. */

const YEAR_MS = 365.25 * 86_400_000;

/** Years from one day to another; negative where the other is earlier. */
export function yearsBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / YEAR_MS;
}

/** Whole months from one day to another, rounded. */
export function monthsBetween(from: string, to: string): number {
  return Math.round(12 * yearsBetween(from, to));
}

/** The day so many months later, as YYYY-MM-DD; what is no whole month counts in days. */
export function monthsLater(from: string, months: number): string {
  const day = new Date(Date.parse(from));
  day.setUTCMonth(day.getUTCMonth() + Math.floor(months));
  const rest = ((months - Math.floor(months)) * YEAR_MS) / 12;
  return new Date(day.getTime() + rest).toISOString().slice(0, 10);
}

/** A day as study.json may state it, in words for a message. */
export const DAY_EXPECTED = 'a date that exists, like "2024-05-01" (or "2024-05", "2024")';

/** Whether a text is such a day; other ways of writing one can be read in two ways. */
export function isDay(text: string): boolean {
  const [, year, month = '01', day = '01'] = /^(\d{4})(?:-(\d\d)(?:-(\d\d))?)?$/.exec(text) ?? [];
  if (year === undefined) return false;
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  return date.getUTCMonth() === Number(month) - 1 && date.getUTCDate() === Number(day);
}

/** Whether one day comes before another, as far as both are stated: 2024 is not before 2024-05. */
export function isBefore(day: string, other: string): boolean {
  const stated = Math.min(day.length, other.length);
  return day.slice(0, stated) < other.slice(0, stated);
}

/** The day it is, by the clock of this machine in UTC. */
export function today(): string {
  return new Date().toISOString().slice(0, 10);
}
