/**
 * The whole way, from a folder to result.json by the command, against published figures: Bland and
 * Altman, Lancet 327 (1986) 307, peak expiratory flow of 17 subjects by two meters (l/min stand in
 * the mW columns). The paper takes two standard deviations and works from figures rounded to 0.1.
 */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Result } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { PEAK_FLOW } from '../peakFlow.js';

// A run starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000 });

const COMMAND = fileURLToPath(new URL('../../dist/commands/main.js', import.meta.url));
const STUDIES = fileURLToPath(new URL('./studies/', import.meta.url));
const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true });
});

/** What `npm start -- FOLDER --out DIR` leaves in result.json. */
function compared(folder: string): Result {
  const out = mkdtempSync(join(tmpdir(), 'meterpair-peak-flow-'));
  made.push(out);
  const run = spawnSync(
    process.execPath,
    [COMMAND, 'compare', STUDIES + folder, '--no-notebook', '--out', out],
    {
      encoding: 'utf8',
    },
  );
  expect(run.stderr).toBe('');
  expect(run.status).toBe(0);
  expect(readdirSync(out).sort()).toEqual([
    'appendix.html',
    'card.html',
    'factors.json',
    'report.html',
    'result.json',
  ]);
  return JSON.parse(readFileSync(join(out, 'result.json'), 'utf8'));
}

const tenth = (value: number) => Math.round(10 * value) / 10;

test('first readings: bias, standard deviation, limits and their errors are as printed', () => {
  const { agreement, series } = compared('peak-flow-1986');
  expect([series.length, agreement.series, agreement.laps]).toEqual([17, 17, 17]);
  const { mean, sd, low, high } = agreement.difference_mW;
  // Printed: mean difference -2.1, standard deviation 38.8; half a unit of the last digit
  near(mean, -2.1, 0.05);
  near(sd, 38.8, 0.05);
  // Printed: limits -79.7 and 75.5, which are -2.1 ∓ 2 × 38.8 from the rounded figures
  near(tenth(mean!) - 2 * tenth(sd!), -79.7, 1e-9);
  near(tenth(mean!) + 2 * tenth(sd!), 75.5, 1e-9);
  // The limits of result.json are not rounded on the way: -79.65 and 75.41
  near(agreement.limits_mW.low, -79.7, 0.1);
  near(agreement.limits_mW.high, 75.5, 0.1);
  // Printed: standard error of the mean difference 9.4, 95 % interval -22.0 to 17.8
  const t = 2.12;
  near((high! - low!) / 2 / t, 9.4, 0.05);
  near(low, -22.0, 0.05);
  near(high, 17.8, 0.05);
  // Printed: standard error of a limit √(3 s²/n) = 16.3
  near(Math.sqrt((3 * sd! ** 2) / 17), 16.3, 0.05);
  // The paper's interval of the lower limit, -114.3 to -45.1, is symmetric; the exact one lies
  // farther out at both ends, by less than a standard error of the limit.
  const [outer, inner] = agreement.limits_mW.low_interval;
  expect(outer).toBeLessThan(-114.3);
  expect(outer).toBeGreaterThan(-114.3 - 16.3);
  expect(inner).toBeLessThan(-45.1);
  expect(inner).toBeGreaterThan(-45.1 - 16.3);
});

test('both readings: the series is the unit, and repeats are no new subjects', () => {
  const { agreement } = compared('peak-flow-1986-repeated');
  expect([agreement.series, agreement.laps]).toEqual([17, 34]);
  // The mean difference is the plain mean of the table on p. 307 (-205/34). Printed: the standard
  // deviation of the differences between subject means, 33.2; 1/2 of the variance of single differences within subjects comes on top.
  near(agreement.difference_mW.mean, -205 / 34, 1e-9);
  const single = Math.sqrt(33.2 ** 2 + withinVariance() / 2);
  near(agreement.difference_mW.sd, single, 0.05);
  // The printed corrected standard deviation, 37.7, takes the repeats of both meters as unrelated;
  // here they are taken pair by pair.
  near(agreement.difference_mW.sd, 37.7, 1);
  near(agreement.limits_mW.high! - agreement.limits_mW.low!, 4 * agreement.difference_mW.sd!, 1e-9);
});

/** Variance of single differences within a subject, from the rows of the study. */
function withinVariance(): number {
  const rows = readFileSync(`${STUDIES}peak-flow-1986-repeated/runs.csv`, 'utf8')
    .trim()
    .split('\n');
  const difference = rows.slice(1).map((row) => {
    const [, , reference, candidate] = row.split(',');
    return Number(candidate) - Number(reference);
  });
  let sum = 0;
  for (let i = 0; i < difference.length; i += 2) {
    sum += (difference[i]! - difference[i + 1]!) ** 2 / 2;
  }
  return sum / (difference.length / 2);
}

describe('the same seventeen pairs as the laps of one series', () => {
  const { reference: large, candidate: mini } = PEAK_FLOW;
  const study = parseStudy(
    {
      reference: { name: 'mini flow meter' },
      candidate: { name: 'large flow meter' },
      sources: [{ name: 'breath', wavelength_nm: 550 }],
      protocol: { order: 'candidate-first', exclude_cold_starts: false },
      limits_multiplier: 2,
    },
    { runs: `reference_mW,candidate_mW\n${mini.map((x, i) => `${x},${large[i]}`).join('\n')}\n` },
  );

  test('bias, standard deviation and limits are the printed ones, nothing left out', () => {
    const [series] = analyse(study).series;
    expect(series!.excluded).toEqual([]);
    expect(series!.laps).toBe(17);
    near(series!.difference_mW.mean, -2.1, 0.05);
    near(series!.difference_mW.sd, 38.8, 0.05);
    near(series!.difference_mW.low, -22.0, 0.05);
    near(series!.difference_mW.high, 17.8, 0.05);
    near(series!.limits_mW.low, -79.7, 0.1);
    near(series!.limits_mW.high, 75.5, 0.1);
  });
});
