/** What tells a study, a result and factors from anything else that might be handed over for them. */
import type { Shape } from '../statistics/shapes.js';

const NAMED: Shape = { fields: { name: 'text' } };
const RECORDS: Shape = { list: { fields: {} } };
const METERS = { reference: NAMED, candidate: NAMED } as const;

export const STUDY: Shape = { fields: { series: RECORDS, ...METERS } };
export const RESULT: Shape = {
  fields: {
    data_sha256: 'text',
    series: RECORDS,
    wavelengths: RECORDS,
    reference: 'text',
    candidate: 'text',
  },
};
export const FACTORS: Shape = {
  fields: { data_sha256: 'text', factors: RECORDS, ...METERS },
};
