/**
 * Whole series against NumPy and SciPy: whole matrices, integrals and roots in place of the closed forms
 * and recursions here (test/fixtures/series.py, which says how the invented readings were made).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Steps } from '../../src/readings/displayStep.js';
import { bracketedEffect } from '../../src/series/bracketed.js';
import { coldStarts } from '../../src/series/coldStarts.js';
import { type ColdStartTest, coldStartTest } from '../../src/series/coldStartTest.js';
import { driftModel } from '../../src/series/driftModel.js';
import { estimateFactor } from '../../src/series/estimateFactor.js';
import { lapPairs } from '../../src/series/lapPairs.js';
import { driftPerRun, orderBias } from '../../src/series/orderBias.js';
import { outlierFlags } from '../../src/series/outliers.js';
import { bracketedFactor, type FactorParts } from '../../src/series/seriesFactor.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import type { Flag, SeriesFactor } from '../../src/vocabulary.js';
import { studyOf } from '../seriesStudy.js';
import { runsOf, seriesOf } from './runs.js';

interface Part {
  readonly standardUncertainty: number;
  readonly dof: number;
}
interface Kept {
  readonly name: string;
  readonly meters: string;
  readonly time_s: readonly number[];
  readonly mW: readonly number[];
  readonly steps: Steps;
  readonly model: object;
  readonly perRun: Part;
  readonly orderBias: number | null;
  readonly bracketed: (Part & { readonly effect: number }) | null;
  readonly cold: readonly (object | null)[];
  readonly flags: readonly object[];
  readonly screened: {
    readonly excluded: readonly number[];
    readonly suspected: readonly number[];
    readonly rivalEffects: readonly number[];
    readonly degree: number;
    readonly factor: SeriesFactor;
    readonly parts: FactorParts;
    readonly flagged: readonly object[];
  };
}

const kept: readonly Kept[] = JSON.parse(
  readFileSync(new URL('../fixtures/series.json', import.meta.url), 'utf8'),
);

/** Every number to 1e-8 of itself (dust below 1e-12 aside), all else equal. */
function alike(found: unknown, expected: unknown, place = ''): void {
  if (typeof expected === 'number') {
    const off = Math.abs((found as number) - expected);
    expect(off, `${place}: ${found} against ${expected}`).toBeLessThanOrEqual(
      1e-12 + 1e-8 * Math.abs(expected),
    );
  } else if (typeof expected === 'object' && expected !== null) {
    const [one, other] = [found, expected] as Record<string, unknown>[];
    expect(Object.keys(one ?? {}).sort(), place).toEqual(Object.keys(other!).sort());
    for (const key of Object.keys(other!)) alike(one![key], other![key], `${place}.${key}`);
  } else expect(found, place).toBe(expected);
}

const plainFlag = ({ run, meter, test, message }: Flag) => ({
  run,
  meter: meter === 'reference' ? 'R' : 'C',
  test,
  percent: message.match(/lies (.*) % from/)?.[1],
});
const plainCold = (found: ColdStartTest | null) => found && { ...found, run: found.run.run };
const { protocol } = studyOf([{ id: 'a', nm: 520, laps: [[1, 1]] }]);

describe.each(kept.map((one) => [one.name, one] as const))('%s', (_, one) => {
  const runs = runsOf(
    one.meters,
    ({ place }) => one.mW[place]!,
    (place) => one.time_s[place]!,
  );
  const series = seriesOf(runs);
  const model = driftModel(runs);

  test('model and what is told of its drift', () => {
    const { degree, evidentDegree, wanderPerRun, effect, fit } = model;
    const { variances } = fit;
    alike({ degree, evidentDegree, wanderPerRun, effect, variances }, one.model);
    alike(driftPerRun(model), one.perRun);
    alike(orderBias(model, lapPairs(series)), one.orderBias);
    const bracketed = bracketedEffect(model);
    alike(bracketed, one.bracketed);
    if (one.bracketed === null || bracketed === null) return;
    const half = coverageFactor(0.9, bracketed.dof) * bracketed.standardUncertainty;
    const value = Math.exp(-bracketed.effect);
    const ends = { low: value * Math.exp(-half), high: value * Math.exp(half) };
    const { standardUncertainty: relative_standard_uncertainty, dof } = bracketed;
    // The widest interval that is told reaches a factor of 1000 either way.
    alike(
      bracketedFactor(model, 0.9),
      half > Math.log(1000) ? null : { value, relative_standard_uncertainty, dof, ...ends },
    );
  });

  test('first runs and odd runs', () => {
    alike(
      [1, 2].map((aside) => plainCold(coldStartTest(runs, 0.001, aside))),
      one.cold,
    );
    alike(
      outlierFlags(
        runs,
        model.fit,
        runs.map(() => 0),
      ).map(plainFlag),
      one.flags,
    );
  });

  test('screening and factor', () => {
    const { excluded, suspected, rivalEffects, degree, ...rest } = one.screened;
    const rounding = ({ meter, reading_mW }: (typeof runs)[number]) =>
      (one.steps[meter] ?? 0) / Math.sqrt(12) / reading_mW;
    const numbers = (list: readonly { readonly run: number }[]) => list.map(({ run }) => run);
    const cold = coldStarts(series, runs, rounding);
    alike(
      { ...cold, excluded: numbers(cold.excluded), suspected: numbers(cold.suspected) },
      { excluded, suspected, rivalEffects, degree },
    );
    const { factor, parts, screened } = estimateFactor(
      series,
      { protocol, confidence: 0.95 },
      one.steps,
    );
    alike({ factor, parts, flagged: screened.flagged.map(plainFlag) }, rest);
  });
});
