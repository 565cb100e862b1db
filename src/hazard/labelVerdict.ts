/** Does the label promise less than the source can emit? */

import { significant } from '../findings/formatNumber.js';
import type { LaserClass } from '../vocabulary.js';
import { classRank, parseLabelClass } from './labelClass.js';

export interface LabelInput {
  readonly label_class: string | null;
  readonly label_max_mW: number | null;
  /** Highest class that the data cannot exclude. */
  readonly class: LaserClass | null;
  /** The class of the highest reading by itself. */
  readonly readingClass: LaserClass | null;
  readonly highest_mW: number;
  /** `null` where nothing bounds it. */
  readonly upper_mW: number | null;
  /** The same class with what the readings leave open (unseparated infrared) at its worst. */
  readonly worstClass: LaserClass | null;
}

export interface LabelJudgement {
  /** `null`: no label, or the data can neither show it nor rule it out. */
  readonly understates: boolean | null;
  readonly why: string;
}

/**
 * `true` when the class that cannot be excluded ranks above everything the label can stand for, or
 * the highest reading exceeds the stated maximum; `false` only when class and maximum both hold
 * with the uncertainty counted; `null` otherwise. On the safe side throughout: a label is never
 * called right because the data are poor.
 */
export function judgeLabel(input: LabelInput): LabelJudgement {
  const byClass = labelClassVerdict(input);
  const byPower = labelPowerVerdict(input);
  const parts = [byClass, byPower].filter((part) => part !== null);
  if (parts.length === 0) return { understates: null, why: 'The label states no class.' };
  const why = parts.map((part) => part.why).join(' ');
  if (parts.some((part) => part.understates === true)) return { understates: true, why };
  if (parts.every((part) => part.understates === false)) return { understates: false, why };
  return { understates: null, why };
}

function labelClassVerdict(input: LabelInput): LabelJudgement | null {
  if (input.label_class === null || input.label_class.trim() === '') return null;
  const label = parseLabelClass(input.label_class);
  const note = label.note === null ? '' : ` (${label.note})`;
  const says = `The label says class ${label.name ?? input.label_class.trim()}${note}`;
  if (label.lowest === null || label.highest === null || input.class === null) {
    return { understates: null, why: `${says}; this data cannot compare it.` };
  }
  const shown =
    input.readingClass !== null && classRank(input.readingClass) > classRank(label.highest);
  if (classRank(input.class) > classRank(label.highest) && (shown || input.upper_mW !== null)) {
    return {
      understates: true,
      why: shown
        ? `${says}: it understates class ${input.readingClass}.`
        : `${says}, and class ${input.class} cannot be excluded: on the safe side the label counts as understating.`,
    };
  }
  const worst = input.worstClass ?? input.class;
  if (classRank(worst) <= classRank(label.lowest)) {
    return { understates: false, why: `${says}: not contradicted by this data.` };
  }
  return {
    understates: null,
    why: `${says}: whether it understates cannot be told from this data.`,
  };
}

function labelPowerVerdict(input: LabelInput): LabelJudgement | null {
  const { label_max_mW: max, highest_mW: highest, upper_mW: upper } = input;
  if (max === null) return null;
  const says = `The label promises at most ${max} mW`;
  if (highest > max) {
    const times = highest / max;
    const ratio = times >= 1.1 ? `, ${significant(times, 2)} times as much` : '';
    return {
      understates: true,
      why: `${says}; ${significant(highest, 4)} mW were measured${ratio}.`,
    };
  }
  if (upper !== null && upper <= max)
    return { understates: false, why: `${says}: kept, with the uncertainty counted.` };
  return {
    understates: null,
    why: `${says}: ${upper === null ? 'nothing bounds the power from above.' : 'the uncertainty reaches beyond it.'}`,
  };
}
