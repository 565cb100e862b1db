import type { Data, Shape } from 'plotly.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import type { TraceFit } from '../findings/settlingFindings.js';
import { METERS } from '../record/meters.js';
import { stepResponseCurve } from '../settle/stepResponseCurve.js';
import type { MeterRole, Study, Trace } from '../vocabulary.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  legendHeight,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { uprightLine } from './shapes.js';

const STYLES = {
  reference: { colour: REFERENCE_COLOUR, symbol: 'circle-open', dash: 'solid' },
  candidate: { colour: CANDIDATE_COLOUR, symbol: 'diamond-open', dash: 'dash' },
} as const;

/** Points of a fitted curve: enough to look smooth. */
const CURVE_POINTS = 120;

/**
 * The rise of both meters after switch-on, every recorded trace, with the time at which the study
 * took its readings.
 *
 * @param fits draws the fitted step responses as lines as well (default: none)
 */
export function traceFigure(
  study: Pick<Study, 'traces' | 'protocol'>,
  fits: readonly TraceFit[] = [],
): Figure {
  const { traces, protocol } = study;
  const readAt = protocol.read_at_s;
  const meters = METERS.filter((meter) => traces.some((trace) => trace.meter === meter));
  const curves = meters.flatMap((meter) => curvesOf(fits, meter));
  const data: Data[] = [...meters.flatMap((meter) => pointsOf(traces, meter)), ...curves];
  const entries = meters.length * (curves.length > 0 ? 2 : 1) + (readAt === null ? 0 : 1);
  const when = readAt === null ? '' : ` Readings were taken at ${formatNumber(readAt)} s.`;
  return figureOf({
    title: curves.length > 0 ? 'Traces and fitted step responses' : 'Traces from switch-on',
    alt: `Reading against time since switch-on. ${meters.map((meter) => altOf(traces, meter)).join(' ')}${when}${curves.length > 0 ? ' Lines: fitted step responses.' : ''}`,
    height: 330 + legendHeight(entries),
    data,
    empty: 'The study has no traces.',
    layout: {
      xaxis: axis('time since switch-on / s', { zeroline: false }),
      yaxis: axis('reading / mW', { rangemode: 'tozero' }),
      shapes: readAt === null ? [] : [readingTime(readAt)],
    },
  });
}

function readingTime(read_at_s: number): Partial<Shape> {
  const name = `reading time of the study: ${formatNumber(read_at_s)} s`;
  return { ...uprightLine(read_at_s, { dash: 'dot', name }), layer: 'above' };
}

function pointsOf(traces: readonly Trace[], meter: MeterRole): Data[] {
  const { colour, symbol } = STYLES[meter];
  const own = traces.filter((trace) => trace.meter === meter);
  return own.map((trace, index) => ({
    type: 'scatter',
    mode: 'markers',
    name: `${meter}, ${counted(own.length, 'trace', 'traces')}`,
    legendgroup: meter,
    showlegend: index === 0,
    x: [...trace.elapsed_s],
    y: [...trace.reading_mW],
    marker: { symbol, color: colour, size: 5, opacity: 0.7 },
    hoverinfo: 'text',
    hovertext: trace.elapsed_s.map(
      (time, i) =>
        `${shortText(trace.series, 24)}, run ${trace.run} (${meter}), ${formatNumber(time)} s: ${formatNumber(trace.reading_mW[i] ?? null)} mW`,
    ),
  }));
}

function curvesOf(fits: readonly TraceFit[], meter: MeterRole): Data[] {
  const own = fits.flatMap(({ trace, fit }) =>
    trace.meter === meter && fit.status === 'fitted' ? [{ trace, fit }] : [],
  );
  return own.map(({ trace, fit }, index) => {
    const end = trace.elapsed_s.at(-1) ?? 0;
    const times = Array.from({ length: CURVE_POINTS + 1 }, (_, i) => (i * end) / CURVE_POINTS);
    const parameters = [
      fit.settled_mW.value,
      fit.time_constant_s.value,
      fit.onset_s.value,
      fit.relative_drift_per_s?.value ?? 0,
    ];
    return {
      type: 'scatter',
      mode: 'lines',
      name: `${meter}, fitted`,
      legendgroup: `${meter} fitted`,
      showlegend: index === 0,
      x: times,
      y: times.map((time) => stepResponseCurve.value(parameters, time)),
      line: { color: STYLES[meter].colour, width: 1, dash: STYLES[meter].dash },
      hoverinfo: 'skip',
    };
  });
}

function altOf(traces: readonly Trace[], meter: MeterRole): string {
  const own = traces.filter((trace) => trace.meter === meter);
  const highest = Math.max(...own.flatMap((trace) => trace.reading_mW));
  return `${counted(own.length, 'trace', 'traces')} of the ${meter}, up to ${formatNumber(highest)} mW.`;
}
