/** The wishes of a plan as somebody types them. */
import type { PlannedSource, StudyWishes } from '../plan/planStudy.js';
import { RUN_ORDERS } from '../plan/runOrder.js';
import type { StudySettings } from '../record/studySettings.js';
import type { RunOrder } from '../vocabulary.js';
import { badUse, type OptionValues, typedNumber } from './options.js';

export const PLAN_OPTIONS = {
  source: { value: 'NAME:NM:MW', many: true },
  title: { value: 'TEXT' },
  reference: { value: 'NAME' },
  candidate: { value: 'NAME' },
  'step-reference': { value: 'MW' },
  'step-candidate': { value: 'MW' },
  'rated-reference': { value: 'MW' },
  'rated-candidate': { value: 'MW' },
  certificate: { value: 'PERCENT' },
  k: { value: 'K' },
  tolerance: { value: 'PERCENT' },
  wanted: { value: 'PERCENT' },
  placement: { value: 'jig|by-hand|PERCENT' },
  noise: { value: 'PERCENT' },
  steadiness: { value: 'PERCENT' },
  order: { value: 'ORDER' },
  'time-constant': { value: 'S' },
  'read-at': { value: 'S' },
  'on-time': { value: 'S' },
  rest: { value: 'S' },
  'most-series': { value: 'N' },
  'most-laps': { value: 'N' },
  power: { value: 'MW' },
} as const;

export type PlanTexts = OptionValues<typeof PLAN_OPTIONS>;

/** What is asked in a terminal, in order; Enter leaves it open. */
export const QUESTIONS: readonly (readonly [option: keyof PlanTexts, question: string])[] = [
  ['source', 'A source, as NAME:NM or NAME:NM:MW (violet module:405:90): '],
  ['reference', 'Name of the reference, the meter you trust: '],
  ['candidate', 'Name of the candidate, the meter to be corrected: '],
  ['certificate', 'Expanded uncertainty of the reference in % (Enter: not stated): '],
  ['tolerance', 'How far may a corrected reading be off, in % (Enter: 5): '],
  ['wanted', 'Wanted U of a corrected reading, in % (Enter: the tolerance): '],
  ['step-reference', 'Smallest step of the reference’s display in mW (Enter: not known): '],
  ['step-candidate', 'Smallest step of the candidate’s display in mW (Enter: not known): '],
  ['rated-reference', 'Power the reference is rated for, in mW (Enter: not known): '],
  ['rated-candidate', 'Power the candidate is rated for, in mW (Enter: not known): '],
  ['placement', 'How are the heads put back: jig, by-hand, or a known % (Enter: not said): '],
  ['steadiness', 'How much does the source scatter from run to run, in % (Enter: 0): '],
  ['time-constant', 'Time constant of the slower meter in s (Enter: not known): '],
];

/** Options that a study.json answers by itself. */
const IN_FILE = [
  'source',
  'title',
  'reference',
  'candidate',
  'step-reference',
  'step-candidate',
  'rated-reference',
  'rated-candidate',
  'certificate',
  'k',
  'tolerance',
  'placement',
  'order',
  'read-at',
] as const;

/** @throws command-line for a text that means nothing, or no source */
export function wishesFromTexts(texts: PlanTexts): StudyWishes {
  if (texts.source.length === 0) {
    throw badUse('A plan needs at least one source.', 'none', '--source "violet module:405:90"');
  }
  if (texts.power !== null) {
    throw badUse(
      '--power goes with a study.json.',
      texts.power,
      'the power behind the name: NAME:NM:MW',
    );
  }
  const tolerance = percentOf(texts, 'tolerance') ?? 0.05;
  const certificate = percentOf(texts, 'certificate');
  if (texts.k !== null && certificate === null) {
    throw badUse('--k goes with --certificate.', texts.k, '--certificate PERCENT beside it');
  }
  const reference = texts.reference ?? 'reference';
  const candidate = texts.candidate ?? 'candidate';
  const noise = percentOf(texts, 'noise') ?? 0.01;
  return {
    ...common(texts, tolerance),
    title: texts.title ?? `${candidate} against ${reference}`,
    meters: {
      reference: {
        name: reference,
        resolution_mW: numberIn(texts, 'step-reference'),
        rated_max_mW: numberIn(texts, 'rated-reference'),
        noise,
      },
      candidate: {
        name: candidate,
        resolution_mW: numberIn(texts, 'step-candidate'),
        rated_max_mW: numberIn(texts, 'rated-candidate'),
        noise,
      },
    },
    sources: texts.source.map(sourceOf),
    certificate:
      certificate === null
        ? null
        : { expanded_uncertainty: certificate, coverage_factor: numberIn(texts, 'k') ?? 2 },
    placement: placementOf(texts.placement),
    order: orderOf(texts.order),
    read_at_s: numberIn(texts, 'read-at'),
    slower_time_constant_s: numberIn(texts, 'time-constant'),
    confidence: 0.95,
  };
}

/** @throws command-line for an option that the file answers, or a file without sources */
export function wishesFromFile(
  settings: StudySettings,
  texts: PlanTexts,
  path: string,
): StudyWishes {
  const twice = IN_FILE.find((name) => texts[name] !== null && texts[name].length > 0);
  if (twice !== undefined) {
    throw badUse(
      `study.json is there, and says what --${twice} would.`,
      path,
      'the change made in study.json',
    );
  }
  if (settings.sources === null) {
    throw badUse(
      'study.json names no source, so there is nothing to plan for.',
      path,
      'sources in it',
    );
  }
  const { reference, candidate, protocol } = settings;
  const noise = percentOf(texts, 'noise') ?? 0.01;
  const power_mW = numberIn(texts, 'power');
  const slower = Math.max(reference.time_constant_s ?? 0, candidate.time_constant_s ?? 0);
  return {
    ...common(texts, settings.tolerance),
    title: settings.title,
    meters: { reference: { ...reference, noise }, candidate: { ...candidate, noise } },
    sources: settings.sources.map(({ name, wavelength_nm, beam_diameter_mm }) => ({
      name,
      wavelength_nm,
      beam_diameter_mm,
      power_mW,
    })),
    certificate:
      reference.expanded_uncertainty_percent === null
        ? null
        : {
            expanded_uncertainty: reference.expanded_uncertainty_percent / 100,
            coverage_factor: reference.coverage_factor,
          },
    placement: settings.between_series ?? protocol.placement,
    order: protocol.order ?? 'ABBA-BAAB',
    read_at_s: protocol.read_at_s,
    slower_time_constant_s: numberIn(texts, 'time-constant') ?? (slower === 0 ? null : slower),
    confidence: settings.confidence,
  };
}

function common(texts: PlanTexts, tolerance: number) {
  return {
    tolerance,
    wanted: percentOf(texts, 'wanted') ?? tolerance,
    source_noise: percentOf(texts, 'steadiness') ?? 0,
    on_time_s: numberIn(texts, 'on-time'),
    rest_s: numberIn(texts, 'rest') ?? 30,
    most_series: numberIn(texts, 'most-series') ?? 3,
    most_laps: numberIn(texts, 'most-laps') ?? 40,
  };
}

function sourceOf(text: string): PlannedSource {
  const [name = '', ...rest] = text.split(':').map((part) => part.trim());
  const [nm = null, mW = null, mm = null, ...more] = rest.map((part) =>
    numberFrom('--source', part),
  );
  if (name === '' || nm === null || more.length > 0) {
    throw badUse('A source needs a name and a wavelength.', text, '"violet module:405:90"');
  }
  return { name, wavelength_nm: nm, power_mW: mW, beam_diameter_mm: mm };
}

function placementOf(text: string | null): StudyWishes['placement'] {
  if (text === null || text === 'jig' || text === 'by-hand') return text;
  return fraction('--placement', text, 0);
}

function orderOf(text: string | null): RunOrder {
  const order = RUN_ORDERS.find((one) => one === (text ?? 'ABBA-BAAB'));
  if (order !== undefined) return order;
  throw badUse('There is no such order.', text ?? '', RUN_ORDERS.join(', '));
}

type Single = {
  [Name in keyof PlanTexts]: PlanTexts[Name] extends string | null ? Name : never;
}[keyof PlanTexts];

function numberIn(texts: PlanTexts, name: Single): number | null {
  const text = texts[name];
  return text === null ? null : numberFrom(`--${name}`, text);
}

function percentOf(texts: PlanTexts, name: Single): number | null {
  const text = texts[name];
  const least = name === 'noise' || name === 'steadiness' ? 0 : LEAST_PERCENT;
  return text === null ? null : fraction(`--${name}`, text, least);
}

/** What study.json takes for the least percentage that is none at all. */
const LEAST_PERCENT = 1e-6;

function fraction(name: string, text: string, least: number): number {
  const value = numberFrom(name, text);
  if (value >= least && value < 100) return value / 100;
  const from = least === 0 ? 'from 0' : 'above 0';
  throw badUse(`${name} needs a percentage ${from} to below 100.`, text, '1 for 1 %');
}

/** A number above or at zero; a percent sign or a unit behind it does no harm. */
function numberFrom(name: string, text: string): number {
  const plain = text.replace(/\s*(?:%|mW|nm|mm|s)$/u, '');
  const value = typedNumber(name, plain);
  if (value >= 0) return value;
  throw badUse(`${name} needs a number.`, text, 'a number such as 1.5');
}
