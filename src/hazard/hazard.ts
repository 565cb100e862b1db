/** How hazardous is this laser, judged on the safe side? A screening aid, never a classification. */

import { significant } from '../findings/formatNumber.js';
import { capital, sentences } from '../statistics/sentences.js';
import type { HazardResult, LaserClass, Warning } from '../vocabulary.js';
import { isDoubledLine, LEAKED_INFRARED_NM } from '../wavelengths/infraredLeak.js';
import type { EmissionLimit, EmissionLimits } from './accessibleEmissionLimits.js';
import { accessibleEmissionLimits, CLASS_3B_MAX_MW } from './accessibleEmissionLimits.js';
import type { HazardBound } from './hazardBound.js';
import { hazardBound } from './hazardBound.js';
import type { HazardInput } from './hazardInput.js';
import { checkHazardInput, WAVELENGTH_TOLERANCE_NM } from './hazardInput.js';
import { hazardWarnings } from './hazardWarnings.js';
import { classRank } from './labelClass.js';
import { judgeLabel } from './labelVerdict.js';

export interface HazardJudgement {
  readonly hazard: HazardResult;
  readonly warnings: readonly Warning[];
}

/** What every judgement says of itself. */
export const HAZARD_CAUTION =
  'A screening aid for continuous-wave light, never a classification: the standard, local rules and a laser safety officer decide. Never lower a label or reduce eyewear because of it.';

/**
 * Which laser class can the data not exclude, and does the label understate it?
 *
 * `highest_mW` is the highest reading of either meter, peaks included, candidate readings
 * multiplied by K (by 1 without K); `upper_mW` is its bound with the uncertainty (`hazardBound`),
 * `null` where nothing bounds it: then no class is excluded, and `class` is 4.
 * `class` is judged at `upper_mW`, as it is printed, with the lowest limits within the wavelength tolerance,
 * `reading_class` at `highest_mW` with those of the nominal wavelength. Both are `null` where the
 * standard limits no power, when nothing above zero was read, or when the source is pulsed.
 *
 * @throws argument-wrong for readings that are not finite, a factor that is not above 0 or above its
 *   upper end, a transmission or a confidence outside 0 to 1
 *
 * Not for pulsed light, several wavelengths at once, or M classes. Source: limits as in
 * `accessibleEmissionLimits`; the rule that a class is granted only when the emission *with* its
 * total uncertainty is below the limit: FDA, HEW 76-8036, 3.5 and 5.1.
 */
export function judgeHazard(input: HazardInput): HazardJudgement {
  checkHazardInput(input);
  const { source } = input;
  const nominal = accessibleEmissionLimits(source.wavelength_nm);
  const cautious = accessibleEmissionLimits(source.wavelength_nm, {
    tolerance_nm: input.wavelengthTolerance_nm ?? WAVELENGTH_TOLERANCE_NM,
  });
  const bound = hazardBound(input);
  if (bound === null || !(bound.highest_mW > 0)) return nothingSeen(input, bound);
  if (source.emission === 'pulsed') return pulsed(input, bound);
  const readingClass = classAt(bound.highest_mW, nominal);
  const upperClass =
    bound.upper_mW === null ? '4' : classAt(bound.upper_mW, cautious, isClearlyBelow);
  const infraredClass =
    bound.upper_mW === null ? null : classIfInfrared(input, bound.upper_mW, upperClass);
  const label = judgeLabel({
    label_class: source.label_class,
    label_max_mW: source.label_max_mW,
    class: upperClass,
    readingClass,
    worstClass: infraredClass ?? upperClass,
    highest_mW: bound.highest_mW,
    upper_mW: bound.upper_mW,
  });
  const warnings = [
    ...(bound.upper_mW !== null && (upperClass === null || readingClass === null)
      ? [noPowerLimit(source.name, upperClass, nominal, cautious)]
      : []),
    ...hazardWarnings(input, bound, nominal),
  ];
  const zone =
    bound.upper_mW === null
      ? 'Class 4 cannot be excluded: treat it as class 4 until that is settled.'
      : upperClass === null || readingClass === null
        ? ''
        : zones({ upper_mW: bound.upper_mW, readingClass, upperClass, nominal, cautious });
  return {
    hazard: {
      ...basics(source, bound),
      class: upperClass,
      reading_class: readingClass,
      decided: upperClass !== null && upperClass === readingClass,
      label_understates: label.understates,
      why: sentences([
        bound.text,
        zone,
        infraredClass === null
          ? ''
          : `Were ${input.infrared ? 'as much of it as the filter leaves open' : 'the light not what it seems but'} infrared of ${LEAKED_INFRARED_NM.join(' or ')} nm, class ${infraredClass} would follow.`,
        label.why,
        ...warnings.map((warning) => warning.message.replace(`${source.name}: `, '')).map(capital),
        HAZARD_CAUTION,
      ]),
    },
    warnings,
  };
}

/** The source and what was found of it, before it is judged. */
const basics = (
  { name, wavelength_nm, label_class, label_max_mW }: HazardInput['source'],
  bound: HazardBound | null,
) => ({
  source: name,
  wavelength_nm,
  label_class,
  label_max_mW,
  highest_mW: bound?.highest_mW ?? null,
  upper_mW: bound?.upper_mW ?? null,
  seen_in: bound === null ? null : sayings(bound),
});

const sayings = ({ seen, elsewhere }: HazardBound) =>
  elsewhere === null ? seen : `${seen}; ${elsewhere}`;

/** A thermal or slow sensor shows the mean of pulsed light, and the limits here are for continuous light. */
function pulsed({ source }: HazardInput, bound: HazardBound): HazardJudgement {
  const most = source.label_max_mW;
  const message =
    'the source is pulsed or modulated: these meters show its mean power, and the limits used here are for continuous light, so no class is given. Its pulses may be far more hazardous than the mean. Treat it as class 4 until somebody who has the standard has judged it.';
  const understates = most !== null && bound.highest_mW > most ? true : null;
  return withoutClass(basics(source, bound), 'hazard-pulsed', message, understates, bound.text);
}

function withoutClass(
  found: ReturnType<typeof basics>,
  code: string,
  message: string,
  label_understates: true | null = null,
  text = '',
): HazardJudgement {
  return {
    hazard: {
      ...found,
      class: null,
      reading_class: null,
      decided: false,
      label_understates,
      why: sentences([text, capital(message), HAZARD_CAUTION]),
    },
    warnings: [{ code, message: `${found.source}: ${message}` }],
  };
}

/** The lowest class that a power is within; `null` where the limits cannot say. */
function classAt(
  power_mW: number,
  limits: EmissionLimits,
  isWithin = (power: number, limit: number) => power <= limit,
): LaserClass | null {
  if (!limits.in_scope) return null;
  const top = limits.limits.find((limit) => limit.class === '3B')?.limit_mW ?? CLASS_3B_MAX_MW;
  if (!isWithin(power_mW, top)) return '4';
  if (!limits.covered) return null;
  return limits.limits.find((limit) => isWithin(power_mW, limit.limit_mW))?.class ?? '4';
}

/** Whether a bound is less than a limit also as both are printed: to three digits, a bound rounded up. */
function isClearlyBelow(bound_mW: number, limit_mW: number): boolean {
  if (!(bound_mW > 0)) return true;
  const digits = 10 ** (2 - Math.floor(Math.log10(bound_mW)));
  const printed = Math.ceil(Number((bound_mW * digits).toPrecision(12))) / digits;
  return printed < Number(limit_mW.toPrecision(3));
}

/** The class that would follow if all of the light that may be infrared were, when that is a higher one. */
function classIfInfrared(
  input: HazardInput,
  power_mW: number,
  visible: LaserClass | null,
): LaserClass | null {
  if (visible === null || !isDoubledLine(input.source.wavelength_nm)) return null;
  const infrared_mW = power_mW * (input.infrared?.mostFraction ?? 1);
  const worst = LEAKED_INFRARED_NM.map((nm) =>
    classAt(infrared_mW, accessibleEmissionLimits(nm), isClearlyBelow),
  )
    .filter((name) => name !== null)
    .reduce((a, b) => (classRank(a) >= classRank(b) ? a : b));
  return classRank(worst) > classRank(visible) ? worst : null;
}

function noPowerLimit(
  source: string,
  upperClass: LaserClass | null,
  nominal: EmissionLimits,
  cautious: EmissionLimits,
): Warning {
  const known = upperClass === '4' ? 'class 4 cannot be excluded' : 'no class can be given';
  const why = nominal.covered ? cautious.why : nominal.why;
  return {
    code: 'hazard-no-class',
    message: `${source}: ${known}. ${why} Treat the source as hazardous until somebody who has the standard has judged it.`,
  };
}

interface Zones {
  readonly upper_mW: number;
  readonly readingClass: LaserClass;
  readonly upperClass: LaserClass;
  readonly nominal: EmissionLimits;
  readonly cautious: EmissionLimits;
}

/** Which of three: above a limit, below it with uncertainty to spare, or neither to be excluded. */
function zones({ upper_mW, readingClass, upperClass, nominal, cautious }: Zones): string {
  if (readingClass === upperClass) {
    const exceeded = limitUnder(upperClass, nominal);
    const kept = cautious.limits.find((limit) => limit.class === upperClass);
    const parts = [
      exceeded === null ? '' : `above ${limitText(exceeded)}`,
      kept === undefined ? '' : `below ${limitText(kept)} with uncertainty to spare`,
    ].filter((part) => part !== '');
    return `That is ${parts.join(' and ')}: class ${upperClass} by this data.`;
  }
  // With the wavelength as stated, would the power alone have led to this class?
  const byPower = classAt(upper_mW, nominal, isClearlyBelow) === upperClass;
  const limit = limitUnder(upperClass, byPower ? nominal : cautious);
  const at = limit === null ? 'The limit' : capital(limitText(limit));
  const cause = byPower
    ? 'with its uncertainty'
    : 'with the wavelength this close to a change of the limits';
  return `The highest reading by itself lies in class ${readingClass}. ${at} may be exceeded ${cause}: class ${upperClass} cannot be excluded.`;
}

/** The highest limit of the classes below `name`; `null` when there is none. */
function limitUnder(name: LaserClass, limits: EmissionLimits): EmissionLimit | null {
  return limits.limits.findLast((limit) => classRank(limit.class) < classRank(name)) ?? null;
}

const nothingSeen = ({ source }: HazardInput, bound: HazardBound | null): HazardJudgement =>
  withoutClass(
    basics(source, bound),
    'hazard-nothing-seen',
    bound === null
      ? 'no reading of this source was recorded, so its hazard is unknown.'
      : 'no reading is above zero. A beam that missed the sensor looks the same, so no class is excluded.',
  );

const limitText = (limit: EmissionLimit) =>
  `the class ${limit.class} limit of ${significant(limit.limit_mW, 3)} mW`;
