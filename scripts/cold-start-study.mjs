// What the thresholds of the cold-start test cost and catch: the table of docs/measured.md.
//   npm run build && node scripts/cold-start-study.mjs
import { coldStarts, seededRandom } from '../dist/inside.js';

const SERIES = 4000;
const NOISE = 0.01;
const LAPS = 8;

/** Series with the first run low by so many times the noise, both meters equally noisy, no drift. */
function study(low, random) {
  const count = { leftOut: 0, droopPossible: 0, suspected: 0 };
  for (let s = 0; s < SERIES; s++) {
    const runs = Array.from({ length: 2 * LAPS }, (_, i) => ({
      run: i + 1,
      lap: Math.floor(i / 2) + 1,
      meter: i % 2 === 0 ? 'reference' : 'candidate',
      reading_mW: 50 * Math.exp(NOISE * (random.normal() - (i === 0 ? low : 0))),
      time_s: 45 * i,
    }));
    const found = coldStarts({ runs }, runs, () => 0);
    if (found.excluded.length > 0) count.leftOut++;
    if (found.rivalEffects.length > 0) count.droopPossible++;
    // After a first lap that is left out the second may be suspected too; that is not counted here.
    if (found.suspected.length > 0 && found.excluded.length === 0) count.suspected++;
  }
  return count;
}

const percent = (count) => `${((100 * count) / SERIES).toFixed(1)} %`;
console.log(`${SERIES} series of ${LAPS} laps each`);
for (const low of [0, 2, 4, 6, 10]) {
  const { leftOut, droopPossible, suspected } = study(low, seededRandom(100 + low));
  console.log(
    `${low} σ: left out ${percent(leftOut)}, of these a droop possible ${percent(droopPossible)}, suspected ${percent(suspected)}`,
  );
}
