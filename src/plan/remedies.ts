import { percentText } from '../findings/formatNumber.js';
import { METERS } from '../record/meters.js';
import type { CompleteWishes } from './comparisonWishes.js';
import { plannedPlacement } from './placement.js';
import { plannedOutlook } from './plannedOutlook.js';
import type { SizeOfDesign } from './plannedSpread.js';
import { roundedDown, roundedUp } from './twoDigits.js';

/** One thing that, changed alone, would make a wish reachable. */
export interface Remedy {
  readonly what: 'wish' | 'certificate' | 'placement' | 'scatter' | 'power';
  /** To what: a fraction; for the power mW. */
  readonly value: number;
  readonly words: string;
}

/** Draws while one number is looked for: a guide, not a promise. */
const DRAWS = 400;
const HALVINGS = 8;

interface Lever extends Pick<Remedy, 'what'> {
  /** The wishes with this one thing made smaller, to a part of what it is. */
  readonly changed: (part: number) => CompleteWishes;
  readonly value: (part: number) => number;
  readonly words: (value: number) => string;
}

/**
 * What would make a wish reachable with this design, each change alone, everything else as it is; and
 * the wish that can be promised without any change, if there is one below 100 %.
 */
export function remedies(
  wishes: CompleteWishes,
  best: SizeOfDesign & { readonly reading_U_promised: number },
): readonly Remedy[] {
  const size = { series: best.series, laps: best.laps };
  const reached = (changed: CompleteWishes) => {
    const outlook = plannedOutlook(changed, size, DRAWS);
    return outlook !== null && outlook.reading_U_promised <= wishes.wanted;
  };
  const modest = roundedUp(best.reading_U_promised);
  return [
    // What is off by as much as it is was not measured: nobody can wish for that.
    ...(modest >= 1
      ? []
      : [
          {
            what: 'wish' as const,
            value: modest,
            words: `to be content with ± ${percentText(modest)}, which this design does promise`,
          },
        ]),
    ...levers(wishes).flatMap(({ what, changed, value, words }): Remedy[] => {
      let enough = 1 / 64;
      if (!reached(changed(enough))) return [];
      let tooMuch = 1;
      for (let i = 0; i < HALVINGS; i++) {
        const middle = (enough + tooMuch) / 2;
        if (reached(changed(middle))) enough = middle;
        else tooMuch = middle;
      }
      const needed = value(enough);
      return [{ what, value: needed, words: words(needed) }];
    }),
  ];
}

function levers(wishes: CompleteWishes): readonly Lever[] {
  const { certificate, noise, source_noise, display } = wishes;
  const placement = plannedPlacement(wishes.placement).sd;
  const scatter = Math.max(
    Math.hypot(noise.reference, source_noise),
    Math.hypot(noise.candidate, source_noise),
  );
  return [
    ...(certificate === undefined
      ? []
      : [
          {
            what: 'certificate' as const,
            changed: (part: number) => ({
              ...wishes,
              certificate: {
                ...certificate,
                expanded_uncertainty: part * certificate.expanded_uncertainty,
              },
            }),
            value: (part: number) => roundedDown(part * certificate.expanded_uncertainty),
            words: (value: number) =>
              `a reference with U = ${percentText(value)} (k = ${certificate.coverage_factor})`,
          },
        ]),
    {
      what: 'placement',
      changed: (part) => ({ ...wishes, placement: part * placement }),
      value: (part) => roundedDown(part * placement),
      words: (value) =>
        `heads that come back to ${percentText(value)} from series to series, shown by earlier series and stated`,
    },
    {
      what: 'scatter',
      changed: (part) => ({
        ...wishes,
        noise: { reference: part * noise.reference, candidate: part * noise.candidate },
        source_noise: part * source_noise,
      }),
      value: (part) => roundedDown(part * scatter),
      words: (value) => `single readings that scatter by ${percentText(value)} at most`,
    },
    ...(display === undefined || METERS.every((meter) => display.step_mW[meter] === null)
      ? []
      : [
          {
            what: 'power' as const,
            changed: (part: number) => ({
              ...wishes,
              display: { ...display, level_mW: display.level_mW / part },
            }),
            value: (part: number) => roundedUp(display.level_mW / part),
            words: (value: number) => `a power of ${value} mW, or as much finer displays`,
          },
        ]),
  ];
}
