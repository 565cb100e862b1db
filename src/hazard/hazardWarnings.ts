/** What the reader of a hazard judgement has to know beside the class. */

import { significant } from '../findings/formatNumber.js';
import { extremes } from '../statistics/summary.js';
import type { Warning } from '../vocabulary.js';
import { infraredCaution } from '../wavelengths/infraredLeak.js';
import type { EmissionLimits } from './accessibleEmissionLimits.js';
import { LIMIT_JUMPS_NM } from './accessibleEmissionLimits.js';
import type { HazardBound } from './hazardBound.js';
import type { HazardInput } from './hazardInput.js';
import { UNSTATED_EXPANDED_UNCERTAINTY, WAVELENGTH_TOLERANCE_NM } from './hazardInput.js';

/** Within this distance of a jump of the limits the wavelength matters, nm. */
const NEAR_A_JUMP_NM = 10;

/** Warnings of one judgement: missing peaks, factor, uncertainty; resolution, noise, wavelength. */
export function hazardWarnings(
  input: HazardInput,
  bound: HazardBound,
  nominal: EmissionLimits,
): readonly Warning[] {
  const infrared = infraredCaution(
    input.source.wavelength_nm,
    input.source.name,
    input.infrared?.why ?? null,
  );
  const found: readonly (readonly [code: string, message: string | null])[] = [
    ['hazard-no-peak', noPeak(input)],
    ['hazard-unbounded', bound.unbounded],
    ['hazard-higher-elsewhere', bound.elsewhere],
    ['hazard-taken-as-settled', asSettled(input)],
    ['hazard-reference-not-stated', notStated(input)],
    ['hazard-resolution', resolution(input, bound, nominal)],
    ['hazard-noise', noise(input, bound, nominal)],
    ['hazard-wavelength-edge', wavelengthEdge(input)],
  ];
  return [
    ...found.flatMap(([code, message]) =>
      message === null ? [] : [{ code, message: `${input.source.name}: ${message}` }],
    ),
    ...(infrared === null ? [] : [infrared]),
  ];
}

function noPeak(input: HazardInput): string | null {
  return input.readings.some((reading) => reading.peak !== 'none')
    ? null
    : 'no peak was recorded, so what the source emits right after switch-on may be higher.';
}

function asSettled({ takenAsSettled: meters = [] }: HazardInput): string | null {
  return meters.length === 0
    ? null
    : `when after switch-on the ${meters.join(' and the ')} was read is not stated (protocol.read_at_s), so its readings are taken here as settled ones; read earlier, they show less than the source emits.`;
}

function notStated(input: HazardInput): string | null {
  return input.reference.expanded_uncertainty_percent === null
    ? `the reference states no uncertainty; ${100 * UNSTATED_EXPANDED_UNCERTAINTY} % stand in for it in this judgement, by common practice and without a source.`
    : null;
}

/** A limit below two display steps cannot be told from its neighbours by any reading near it. */
function resolution(
  input: HazardInput,
  bound: HazardBound,
  nominal: EmissionLimits,
): string | null {
  const step = extremes(input.readings.map((reading) => reading.step_mW))[0];
  const hidden = nominal.limits.filter(
    (limit) => limit.limit_mW < 2 * step && bound.highest_mW < limit.limit_mW + 2 * step,
  );
  if (hidden.length === 0) return null;
  const names = hidden.map((limit) => `class ${limit.class} (${short(limit.limit_mW)} mW)`);
  return `a display step of ${short(step)} mW cannot resolve the limit of ${names.join(' and of ')}.`;
}

function noise(input: HazardInput, bound: HazardBound, nominal: EmissionLimits): string | null {
  const scatter = Math.max(
    input.repeatability?.reference ?? 0,
    input.repeatability?.candidate ?? 0,
  );
  const near = nominal.limits.find(
    (limit) => Math.abs(bound.highest_mW / limit.limit_mW - 1) < 2 * scatter,
  );
  return near === undefined
    ? null
    : `single readings scatter by ${short(100 * scatter)} %, too much to resolve the class ${near.class} limit of ${short(near.limit_mW)} mW.`;
}

function wavelengthEdge(input: HazardInput): string | null {
  const { wavelength_nm } = input.source;
  const edge = LIMIT_JUMPS_NM.find((nm) => Math.abs(nm - wavelength_nm) <= NEAR_A_JUMP_NM);
  const tolerance = input.wavelengthTolerance_nm ?? WAVELENGTH_TOLERANCE_NM;
  return edge === undefined
    ? null
    : `the limits change at ${edge} nm, close to the nominal ${wavelength_nm} nm; the lowest limit within ± ${tolerance} nm is taken, and the source may be further off. Have its wavelength measured.`;
}

const short = (value: number) => significant(value, 4);
