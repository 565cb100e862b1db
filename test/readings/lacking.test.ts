import { describe, expect, test } from 'vitest';
import { fallOf, gainAt, gainByTraces } from '../../src/readings/lacking.js';
import type { FittedTrace } from '../../src/readings/timeConstants.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

describe('the gain at a reading time of 10 s with τ = 5 s ± 0.5 s', () => {
  const m = Math.exp(-2);

  test('is 1 − e^(−2) of a steady source', () => {
    near(gainAt(10, { value_s: 5, standard_uncertainty_s: 0 }, 0).value, 1 - m, 1e-9);
  });

  test('is uncertain by m·t/τ² · u(τ) and m/τ · 1 s/√3, over 1 − m', () => {
    near(
      gainAt(10, { value_s: 5, standard_uncertainty_s: 0.5 }, 0).standardUncertainty,
      Math.hypot(((m * 10) / 25) * 0.5, m / 5 / Math.sqrt(3)) / (1 - m),
      1e-12,
    );
  });

  test('of a source that falls: what it shows over the power at that time', () => {
    // A first-order sensor on 1 − f·t shows 1 + f·τ − f·t − (1 + f·τ)·e^(−t/τ); f = 0.2 % per s
    const f = 0.002;
    const shown = 1 + f * 5 - f * 10 - (1 + f * 5) * m;
    near(
      gainAt(10, { value_s: 5, standard_uncertainty_s: 0 }, f).value,
      shown / (1 - f * 10),
      1e-9,
    );
  });
});

describe('the gain from runs that have a trace', () => {
  const study = studyOf([{ id: 'a', nm: 638, laps: steady(90, 45, 2) }]);
  /** The trace of a run that leads to a settled value, known to u, with a residual scatter. */
  const fitted = (run: number, value: number, u: number, sd: number, status = 'fitted') =>
    ({
      trace: {
        series: 'a',
        run,
        meter: study.series[0].runs[run - 1].meter,
        elapsed_s: [],
        reading_mW: [],
      },
      fit: { status, settled_mW: { value, standard_uncertainty: u }, residual_sd_mW: sd },
    }) as unknown as FittedTrace;
  const references = study.series[0].runs.filter((run) => run.meter === 'reference');

  test('two of them: geometric mean, and s/√2 where that is more than the fits leave open', () => {
    // 90/100 and 90/96: ln −0.10536 and −0.06454; s = |difference|/√2, s/√2 = half of the difference
    const found = gainByTraces(study, 'reference', [
      fitted(references[0].run, 100, 0.1, 0),
      fitted(references[1].run, 96, 0.1, 0),
    ]);
    near(found?.value, Math.sqrt(0.9 * (90 / 96)), 1e-12);
    near(found?.standardUncertainty, Math.log(100 / 96) / 2, 1e-12);
  });

  test('what the fits leave open: √(mean of u² + s²) ÷ √n', () => {
    // u = 3 %, s = 4 % of the value: 5 % for one, 5 %/√2 for two that agree
    const one = fitted(references[0].run, 100, 3, 4);
    near(gainByTraces(study, 'reference', [one])?.standardUncertainty, 0.05, 1e-12);
    const two = [one, fitted(references[1].run, 100, 3, 4)];
    near(gainByTraces(study, 'reference', two)?.standardUncertainty, 0.05 / Math.SQRT2, 1e-12);
  });

  test('none from a reading of 0 or below, which has no logarithm', () => {
    const of = (reading_mW: number) => {
      const series = study.series.map((one) => ({
        ...one,
        runs: one.runs.map((run) => ({ ...run, reading_mW })),
      }));
      const one = fitted(references[0].run, 100, 3, 4);
      return gainByTraces({ ...study, series }, 'reference', [one])?.value;
    };
    expect([of(0), of(-1)]).toEqual([undefined, undefined]);
    near(of(1), 0.01, 1e-12);
  });

  test('none from the other meter, a trace that tells nothing, or a run that is not there', () => {
    const { run } = references[0];
    expect(gainByTraces(study, 'candidate', [fitted(run, 100, 1, 1)])).toBeNull();
    expect(gainByTraces(study, 'reference', [fitted(run, 100, 1, 1, 'refused')])).toBeNull();
    const elsewhere = fitted(run, 100, 1, 1);
    const lost = { ...elsewhere, trace: { ...elsewhere.trace, series: 'b' } };
    expect(gainByTraces(study, 'reference', [lost])).toBeNull();
    expect(gainByTraces(study, 'reference', [])).toBeNull();
  });
});

describe('the fall of a source', () => {
  const drifting = (value: number | null, standard_uncertainty = 0.001) =>
    ({
      fit: {
        status: 'fitted',
        relative_drift_per_s: value === null ? null : { value, standard_uncertainty },
      },
    }) as unknown as FittedTrace;

  test('is the mean of what the traces show, turned round', () => {
    // −0.2 % and −0.4 % per s: s/√2 is half of their difference
    const found = fallOf([drifting(-0.002, 0), drifting(-0.004, 0), drifting(null)]);
    near(found?.value, 0.003, 1e-12);
    near(found?.standardUncertainty, 0.001, 1e-12);
    near(fallOf([drifting(0.002)])?.value, -0.002, 1e-12);
  });

  test('is not known where no trace shows it', () => {
    expect([fallOf([]), fallOf([drifting(null)])]).toEqual([null, null]);
  });
});
