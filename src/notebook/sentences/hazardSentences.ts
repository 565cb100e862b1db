import type { Result } from '../../vocabulary.js';

/** What stands under every statement about a laser's class. */
export const HAZARD_CAUTION =
  'This is a screening aid and never a classification. It knows one unit, on one day, at the ' +
  'settings that were measured; invisible radiation is only counted if it was measured. Never ' +
  'lower a label, and never choose weaker eyewear, because of it. The standard (IEC 60825-1), ' +
  'local rules and a laser safety officer decide.';

/** Why each source is judged as it is, the understated labels first, and the caution. */
export function hazardSentences(result: Result): readonly string[] {
  const understated = result.hazard.filter((one) => one.label_understates === true);
  const others = result.hazard.filter((one) => one.label_understates !== true);
  return [
    ...understated.map((one) => `The label understates the hazard. ${one.source}: ${one.why}`),
    ...others.map((one) => `${one.source}: ${one.why}`),
    HAZARD_CAUTION,
  ];
}
