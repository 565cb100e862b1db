/** What the class printed on a label can mean in the classes that a power measurement can award. */
import { requireShape } from '../statistics/shapes.js';
import type { LaserClass } from '../vocabulary.js';

export interface LabelClass {
  /** The class in one spelling, as `3R` or `IIIa`; `null` when it is no class that we know. */
  readonly name: string | null;
  /** Lowest class of IEC 60825-1 that the label can stand for; `null` when it cannot be compared. */
  readonly lowest: LaserClass | null;
  /** Highest class that the label can stand for. */
  readonly highest: LaserClass | null;
  /** What the comparison has to be read with; `null` when the class is plain. */
  readonly note: string | null;
}

/** The classes from the least to the most hazardous. */
export const CLASS_ORDER: readonly LaserClass[] = ['1', '2', '3R', '3B', '4'];

/** Place of a class from 0 (class 1) to 4 (class 4). */
export function classRank(name: LaserClass): number {
  return CLASS_ORDER.indexOf(name);
}

const WHOLE_BEAM =
  'an M class depends on how the beam spreads, which the power of the whole beam does not tell';
const ROMAN =
  'the roman classes of 21 CFR 1040.10 match the classes of IEC 60825-1 only approximately';

const entry = (
  name: string,
  lowest: LaserClass | null,
  highest: LaserClass | null,
  note: string | null = null,
): LabelClass => ({ name, lowest, highest, note });

const KNOWN: readonly LabelClass[] = [
  entry('1', '1', '1'),
  entry('1M', '1', '3B', WHOLE_BEAM),
  entry('1C', null, null, 'class 1C depends on contact with the target, not on power'),
  entry('2', '2', '2'),
  entry('2M', '2', '3B', WHOLE_BEAM),
  entry('3R', '3R', '3R'),
  entry('3B', '3B', '3B'),
  entry('4', '4', '4'),
  entry('I', '1', '1', ROMAN),
  entry('II', '2', '2', ROMAN),
  entry('IIa', '1', '1', `${ROMAN}; IIa lies below class II`),
  entry('IIIa', '3R', '3R', ROMAN),
  entry('IIIb', '3B', '3B', ROMAN),
  entry('IV', '4', '4', ROMAN),
  // Words of earlier editions: 3A allowed 5 mW of visible light (read in a public note on the
  // amendment of 2001); a bare 3 leaves R or B open.
  entry('3A', '3R', '3R', 'class 3A is a word of earlier editions, close to 3R'),
  entry('3', '3R', '3B', 'a bare class 3 leaves open whether 3R or 3B is meant'),
  entry('III', '3R', '3B', 'a bare class III leaves open whether IIIa or IIIb is meant'),
];

/**
 * Reads a class as people type it: `3R`, `Class IIIb`, `class 2 laser product`, `2m`.
 *
 * @returns bounds in the classes 1 to 4; all `null` with a note when it is not a known class
 *
 * Source of the approximate pairs I≈1, II≈2, IIIa≈3R, IIIb≈3B, IV≈4: 21 CFR 1040.10 beside
 * IEC 60825-1, common practice; the class I limits of both differ.
 */
export function parseLabelClass(text: string): LabelClass {
  requireShape(text, 'A class', 'text');
  const word = text
    .toLowerCase()
    .replace(/\b(laser|product|class|klasse|classe)\b/g, ' ')
    .replace(/[\s.:_-]+/g, '');
  const found = KNOWN.find((known) => known.name?.toLowerCase() === word);
  return (
    found ?? {
      name: null,
      lowest: null,
      highest: null,
      note: `“${text.trim()}” is not a class that can be compared`,
    }
  );
}
