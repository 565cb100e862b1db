import { type FactorEntry, type Factors, KNOWN_EXACTLY } from '../vocabulary.js';

/** One contribution to a corrected reading, as a fraction of it. */
export interface ReadingPart {
  readonly name: 'factor K' | 'placement' | 'scatter of one reading' | 'display step' | 'settling';
  readonly standardUncertainty: number;
  readonly dof: number;
  /** Whether the factors say how large it is; counted as 0 where they do not. */
  readonly stated: boolean;
}

/** What the uncertainty of one corrected reading is made of (parts that know nothing of each other). */
export function readingParts(
  factors: Pick<Factors, 'candidate'>,
  entry: FactorEntry,
  reading: {
    /** What the display showed less its zero, mW. */
    readonly indication_mW: number;
    /** Relative standard uncertainty of bringing an early reading to a settled one; 0 for none. */
    readonly settling?: number;
  },
): readonly ReadingPart[] {
  const step = factors.candidate.resolution_mW;
  const { next_series_relative_sd: spread, next_series_dof } = entry;
  return [
    {
      name: 'factor K',
      standardUncertainty: entry.relative_standard_uncertainty,
      dof: entry.dof,
      stated: true,
    },
    {
      name: 'placement',
      standardUncertainty: spread ?? 0,
      dof: next_series_dof ?? KNOWN_EXACTLY,
      stated: spread !== undefined,
    },
    {
      name: 'scatter of one reading',
      standardUncertainty: entry.reading_relative_sd,
      dof: entry.reading_dof,
      stated: true,
    },
    {
      name: 'display step',
      standardUncertainty: (step ?? 0) / Math.sqrt(12) / reading.indication_mW,
      dof: KNOWN_EXACTLY,
      stated: step !== null,
    },
    ...(reading.settling === undefined || reading.settling === 0
      ? []
      : [
          {
            name: 'settling' as const,
            standardUncertainty: reading.settling,
            dof: KNOWN_EXACTLY,
            stated: true,
          },
        ]),
  ];
}
