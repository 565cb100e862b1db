/** The runs so far: each meter against its own first reading, told apart by shape and dash. */
import type { PlotPoint } from '../plotPoints.js';
import { drawing } from './dom.js';

const HEIGHT = 240;
const LEFT = 64;
const RIGHT = 16;
const TOP = 34;
const BOTTOM = 34;
/** Percent that the axis reaches at least, so that noise does not look like drift. */
const LEAST = 1;

/** @param planned runs that the series will have */
export function plot(points: readonly PlotPoint[], planned: number, width: number): SVGElement {
  const reach = Math.max(LEAST, ...points.map(({ percent }) => Math.abs(percent))) * 1.1;
  const runs = Math.max(2, planned, ...points.map(({ run }) => run));
  const x = (run: number) => LEFT + ((run - 0.5) / runs) * (width - LEFT - RIGHT);
  const y = (percent: number) => TOP + ((reach - percent) / (2 * reach)) * (HEIGHT - TOP - BOTTOM);
  const meters = ['reference', 'candidate'] as const;
  return drawing(
    'svg',
    {
      viewBox: `0 0 ${width} ${HEIGHT}`,
      width,
      height: HEIGHT,
      role: 'img',
      'aria-label': described(points),
    },
    ...[-reach / 1.1, 0, reach / 1.1].flatMap((percent) => [
      drawing('line', {
        x1: LEFT,
        x2: width - RIGHT,
        y1: y(percent),
        y2: y(percent),
        class: 'grid',
      }),
      drawing('text', { x: LEFT - 8, y: y(percent) + 5, 'text-anchor': 'end' }, signed(percent)),
    ]),
    drawing('text', { x: x(1), y: HEIGHT - 8, 'text-anchor': 'middle' }, 'run 1'),
    drawing('text', { x: x(runs), y: HEIGHT - 8, 'text-anchor': 'middle' }, String(runs)),
    ...meters.flatMap((meter) => {
      const own = points.filter((point) => point.meter === meter);
      const kept = own.filter(({ excluded }) => !excluded);
      const path = kept.map(({ run, percent }) => `${x(run)},${y(percent)}`).join(' ');
      return [
        drawing('polyline', { points: path, class: meter }),
        ...own.map((point) => mark(point, x(point.run), y(point.percent))),
      ];
    }),
    ...legend(),
  );
}

function legend(): readonly SVGElement[] {
  const reference: PlotPoint = { run: 0, meter: 'reference', percent: 0, excluded: false };
  return [
    mark(reference, LEFT + 8, 14),
    drawing('text', { x: LEFT + 20, y: 19 }, 'reference'),
    mark({ ...reference, meter: 'candidate' }, LEFT + 118, 14),
    drawing('text', { x: LEFT + 130, y: 19 }, 'candidate'),
  ];
}

function mark({ meter, excluded }: PlotPoint, x: number, y: number): SVGElement {
  if (excluded) {
    const d = `M${x - 6} ${y - 6}L${x + 6} ${y + 6}M${x - 6} ${y + 6}L${x + 6} ${y - 6}`;
    return drawing('path', { d, class: 'excluded' });
  }
  if (meter === 'reference') return drawing('circle', { cx: x, cy: y, r: 6, class: meter });
  return drawing('rect', { x: x - 6, y: y - 6, width: 12, height: 12, class: meter });
}

const signed = (percent: number) =>
  percent === 0 ? '0 %' : `${percent < 0 ? '\u2212' : '+'}${Math.abs(percent).toPrecision(2)} %`;

function described(points: readonly PlotPoint[]): string {
  const told = points.map(
    ({ run, meter, percent, excluded }) =>
      `run ${run}, ${meter}${excluded ? ', left out' : ''}: ${signed(percent)}`,
  );
  return `Each meter against its own first reading. ${told.join('; ')}`;
}
