/** Traces: their zero, which of them count for settling, and the highest reading in them. */
import type { Run, Study, Trace } from '../vocabulary.js';

export function runOf(study: Study, trace: Trace): Run | undefined {
  return study.series
    .find((one) => one.id === trace.series)
    ?.runs.find((one) => one.run === trace.run);
}

/** Every trace less the zero of its run. */
export function zeroedTraces(study: Study): readonly Trace[] {
  return study.traces.map((trace) => {
    const zero = runOf(study, trace)?.zero_mW ?? 0;
    return { ...trace, reading_mW: trace.reading_mW.map((reading) => reading - zero) };
  });
}

/** Traces of runs that nobody left out beforehand: what went wrong there says nothing of a sensor. */
export function tracesOfKeptRuns(study: Study): readonly Trace[] {
  return study.traces.filter((trace) => {
    const run = runOf(study, trace);
    const warmUp =
      run !== undefined && run.lap !== null && run.lap <= study.protocol.discard_first_laps;
    return run === undefined || (run.exclude === null && !warmUp);
  });
}

/** The highest reading of a trace is a peak of its run, whether or not somebody wrote it down. */
export function withTracedPeaks(study: Study): Study {
  const highest = new Map<string, number>();
  for (const { series, run, reading_mW } of study.traces) {
    let most = Number.NEGATIVE_INFINITY;
    for (const reading of reading_mW) most = Math.max(most, reading);
    highest.set(`${run} ${series}`, most);
  }
  return {
    ...study,
    series: study.series.map((series) => ({
      ...series,
      runs: series.runs.map((run): Run => {
        const most = highest.get(`${run.run} ${series.id}`);
        return most === undefined || most <= (run.peak_mW ?? Number.NEGATIVE_INFINITY)
          ? run
          : { ...run, peak_mW: most };
      }),
    })),
  };
}
