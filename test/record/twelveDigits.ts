/** A record as a file holds it: every number with at most 12 significant digits. */
export function twelveDigits<T>(record: T): T {
  return JSON.parse(
    JSON.stringify(record, (_, value: unknown) =>
      typeof value === 'number' ? Number(value.toPrecision(12)) : value,
    ),
  ) as T;
}
