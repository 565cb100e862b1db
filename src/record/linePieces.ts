/** About so many characters at once: what fits into the nearest memory of a processor. */
const SIZE = 65_536;

/**
 * A long text in pieces of whole lines, so that nobody needs a second copy of all of it.
 *
 * @param text lines ended by LF
 */
export function* linePieces(text: string, from: number, to: number): Generator<string> {
  for (let at = from; at < to; ) {
    const feed = text.indexOf('\n', at + SIZE);
    const end = feed < 0 || feed >= to ? to : feed + 1;
    yield text.slice(at, end);
    at = end;
  }
}
