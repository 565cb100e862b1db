// Does a plan keep its word? Studies at the bench that the wishes describe, analysed as any study:
// how often is U of a corrected reading within the wish, and how often does the corrected reading hold
// the true power; and the same with one block of laps fewer, the best that may be made of those.
//
//   npm run plan-study [-- --studies 200] [--only 3,5]
import { parseArgs } from 'node:util';
import {
  analyse,
  correct,
  factorsOf,
  LEAST_LAPS,
  parseStudy,
  planComparison,
} from '../dist/index.js';
import { completeWishes, plannedOutlook, plannedStudy, seededRandom } from '../dist/inside.js';
import { WISHES } from './plan-wishes.mjs';

const { values } = parseArgs({
  options: {
    studies: { type: 'string', default: '200' },
    only: { type: 'string', default: '' },
    seed: { type: 'string', default: '1' },
  },
});
const studies = Number(values.studies);
const LATER = 20;
const BLOCK = 4;

function kept(wishes, design, study) {
  const random = seededRandom(Number(values.seed));
  let within = 0;
  let held = 0;
  let worst = 0;
  for (let i = 0; i < studies; i++) {
    const made = plannedStudy({ wishes, design, study, later: LATER }, random);
    const { 'study.json': json, 'runs.csv': runs } = made.files;
    const read = parseStudy(JSON.parse(json), { runs });
    const factors = factorsOf(read, analyse(read));
    const level = wishes.display.level_mW;
    const planned = correct(factors, { reading_mW: level, wavelength_nm: made.wavelength_nm });
    if (planned.U / planned.value <= wishes.wanted) within++;
    let own = 0;
    for (const { reading_mW, power_mW } of made.later) {
      const { low, high } = correct(factors, { reading_mW, wavelength_nm: made.wavelength_nm });
      if (low <= power_mW && power_mW <= high) own++;
    }
    held += own / LATER;
    worst += (own / LATER) ** 2;
  }
  const coverage = held / studies;
  // Later readings of one study share its factor: the studies are the sample.
  const spread = Math.sqrt(Math.max(0, worst / studies - coverage ** 2) / studies);
  return { within: within / studies, coverage, spread };
}

/** The likeliest design of so many laps altogether: equal series of whole blocks, or one series. */
function bestOf(wishes, laps) {
  const complete = completeWishes(wishes);
  const splits = [1, 2, 3, 4, 5].filter(
    (n) => n === 1 || ((laps / n) % BLOCK === 0 && laps / n >= LEAST_LAPS),
  );
  return splits
    .map((series) => plannedOutlook(complete, { series, laps: laps / series }))
    .filter((outlook) => outlook !== null)
    .reduce((a, b) => (b.probability > a.probability ? b : a));
}

const percent = (fraction) => (100 * fraction).toFixed(1);
console.log(
  '| wish % | certificate % | placement % | scatter % | design | planned % of plans kept | kept % | reading held % (s.e.) | a block fewer | planned % | kept % |\n|--:|--:|--:|--:|---|--:|--:|--:|---|--:|--:|',
);
const chosen = values.only === '' ? null : values.only.split(',').map(Number);
for (const [i, wishes] of WISHES.entries()) {
  if (chosen !== null && !chosen.includes(i + 1)) continue;
  const plan = planComparison(wishes);
  const { design, outlook } = plan;
  const scatter = Math.hypot(wishes.noise.candidate, wishes.source_noise ?? 0);
  const head = `| ${percent(wishes.wanted)} | ${percent(wishes.certificate.expanded_uncertainty)} | ${typeof wishes.placement === 'number' ? percent(wishes.placement) : (wishes.placement ?? 'not said')} | ${percent(scatter)} |`;
  if (design === null) {
    console.log(`${head} none | ${percent(outlook.probability)} | | | | | | |`);
    continue;
  }
  const fewer = bestOf(wishes, design.series * design.laps - BLOCK);
  const smaller = { series: fewer.series, laps: fewer.laps };
  const full = kept(wishes, design, plan.study);
  const less = kept(wishes, smaller, plan.study);
  console.log(
    `${head} ${design.series} × ${design.laps} | ${percent(outlook.probability)} | ${percent(full.within)} | ${percent(full.coverage)} (${percent(full.spread)}) | ${smaller.series} × ${smaller.laps} | ${percent(fewer.probability)} | ${percent(less.within)} |`,
  );
}
