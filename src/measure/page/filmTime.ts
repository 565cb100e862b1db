/** When the beam of a filmed run went on. */

import type { Film } from './stage.js';

type FilmedAt = Pick<Film, 'saved_ms' | 'lit_s'>;

const TYPED = /^(?:(\d{4})-(\d{2})-(\d{2})[ T])?(\d{1,2}):(\d{2})(?::(\d{2}))?$/;

/**
 * What the file says: cameras save a film as it ends (common practice, no source).
 *
 * @param length_s of the film; not finite where the browser cannot tell
 * @returns ms since 1970, whole seconds; `null`: nothing
 */
export function litByFile({ saved_ms, lit_s }: FilmedAt, length_s: number): number | null {
  const at = Math.round(saved_ms / 1000 - (length_s - (lit_s ?? Number.NaN))) * 1000;
  return Number.isFinite(at) ? at : null;
}

/**
 * A time as typed, `19:03:50` or `2026-03-14 19:03:50`, on the local clock. Without a date it is the
 * last such moment before the film was saved.
 *
 * @returns ms since 1970, `null` for what is no time
 */
export function typedTime(text: string, saved_ms: number): number | null {
  const [, year, month, day, hour = '', minute = '', second = '0'] = TYPED.exec(text.trim()) ?? [];
  if (hour === '' || Number(hour) > 23 || Number(minute) > 59 || Number(second) > 59) return null;
  const saved = new Date(saved_ms);
  const on = (y: number, m: number, d: number) =>
    new Date(y, m, d, Number(hour), Number(minute), Number(second));
  if (year === undefined) {
    const [y, m, d] = [saved.getFullYear(), saved.getMonth(), saved.getDate()];
    const same = on(y, m, d).getTime();
    return same <= saved_ms ? same : on(y, m, d - 1).getTime();
  }
  const at = on(Number(year), Number(month) - 1, Number(day));
  return at.getMonth() === Number(month) - 1 ? at.getTime() : null;
}

/** `2026-03-14 19:03:50` on the local clock. */
export function localText(ms: number): string {
  const at = new Date(ms);
  const two = (value: number) => String(value).padStart(2, '0');
  const date = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${date} ${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
}
