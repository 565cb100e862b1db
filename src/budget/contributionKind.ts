/** What a contribution is paid down with. */
export type ContributionKind =
  | 'repeatability'
  | 'calibration'
  | 'resolution'
  | 'between-series'
  | 'zero'
  | 'settling'
  | 'drift'
  | 'setting'
  | 'other';

/** First match wins: "drift of the calibration" is a matter of the certificate. */
const words: readonly (readonly [ContributionKind, RegExp])[] = [
  ['calibration', /calibrat|certificate/i],
  ['setting', /setting|set to/i],
  ['between-series', /between|seating|placement|pooled/i],
  ['resolution', /resolution|display|step|digit/i],
  ['zero', /zero|offset/i],
  ['settling', /settl|lag|time constant/i],
  ['repeatability', /repeatab|scatter|laps?\b|within/i],
  ['drift', /drift|order/i],
];

/** The kind that the words of a contribution's name point to; `other` when none does. */
export function contributionKind(name: string): ContributionKind {
  return words.find(([, pattern]) => pattern.test(name))?.[0] ?? 'other';
}
