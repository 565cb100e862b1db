import { type Change, type CourseFit, changedSquares, deltasOf, restMatrix } from './courseFit.js';

/** A mended entry lies within so many standard deviations of where its neighbours put it. */
const MENDED_SIGMA = 3;
/** Few degrees of freedom know their standard deviation badly: both bounds widen by x/ν. */
const TYPED_WIDER = 3;
const MENDED_WIDER = 2;
/** A smaller change is no slip worth stopping for. */
const LEAST = Math.log(1.06);

/**
 * Whether one course puts the entries far from their neighbours as typed, by `sigmas` standard
 * deviations, and near them once changed. `y`: ln of the readings as typed.
 */
export function explains(
  fit: CourseFit,
  y: readonly number[],
  changes: readonly Change[],
  scatter: { readonly floor: number; readonly sigmas: number },
): boolean {
  const { course, rest, free } = fit;
  const deltas = deltasOf(changes, y);
  const size = Math.max(...deltas.map(({ delta }) => Math.abs(delta)));
  if (size < LEAST) return false;
  const own = changes.map(({ index }) => course.own[index]!);
  const moved = changes.map(({ index: at }) =>
    deltas.reduce((sum, d) => sum + d.delta * restMatrix(course, at, d.index), rest[at]!),
  );
  const left = Math.max(1, free - changes.length);
  // The scatter of the others: what the changed entries themselves add is taken out.
  const taken = moved.reduce((sum, value, i) => sum + value ** 2 / own[i]!, 0);
  const squares = Math.max(0, changedSquares(fit, deltas) - taken);
  const sigma = Math.sqrt(squares / left + scatter.floor);
  let far = 0;
  for (const a of deltas) {
    for (const b of deltas) far += a.delta * b.delta * restMatrix(course, a.index, b.index);
  }
  const isFar = Math.sqrt(far) >= scatter.sigmas * (1 + TYPED_WIDER / left) * sigma;
  const bound = MENDED_SIGMA * (1 + MENDED_WIDER / left) * sigma;
  return isFar && moved.every((value, i) => Math.abs(value) <= bound * Math.sqrt(own[i]!));
}
