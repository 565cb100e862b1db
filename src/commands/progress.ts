import type { CellProgress } from '../notebook/headless.js';
import type { Io } from './io.js';

/**
 * One line a cell: in place on a terminal, line below line elsewhere.
 *
 * @returns `onCell` for the notebook runner, and `end` to clear the line
 */
export function progressOn({ out, columns }: Pick<Io, 'out' | 'columns'>): {
  readonly onCell: (progress: CellProgress) => void;
  readonly end: () => void;
} {
  const inPlace = columns !== null;
  const width = Math.max(20, (columns ?? 80) - 1);
  return {
    onCell: ({ cell, cells, heading }) => {
      const line = `  ${String(cell).padStart(String(cells).length)}/${cells}  ${heading}`;
      out(inPlace ? `\r\u001b[K${line.slice(0, width)}` : `${line}\n`);
    },
    end: () => {
      if (inPlace) out('\r\u001b[K');
    },
  };
}
