// npm run growth
// Holds how the work grows: doubling the rows may take at most 2.3 times the time. Both sizes are timed
// in turn, in one run, in processor time, and the quickest of each counts, so that a busy machine does
// not decide.
import { analyse, parseStudy } from '../dist/index.js';
import { fitStepResponse, passingBablokLine, theilSenLine } from '../dist/methods.js';
import { longStudy, longTrace, pointsOfALine } from './bench-data.mjs';

const MOST = 2.3;
const ROUNDS = 5;

const study = (series, rows) => {
  const { settings, runs } = longStudy(series, rows);
  return parseStudy(settings, { runs });
};
const CASES = [
  {
    name: 'runs.csv read',
    size: 4000,
    make: (n) => longStudy(1, n),
    run: ({ settings, runs }) => parseStudy(settings, { runs }),
  },
  { name: 'one series analysed', size: 4000, make: (n) => study(1, n), run: (one) => analyse(one) },
  {
    name: 'series of 20 rows analysed',
    size: 40,
    make: (n) => study(n, 20),
    run: (one) => analyse(one),
  },
  {
    name: 'a trace settled',
    size: 100_000,
    make: longTrace,
    run: (one) => fitStepResponse(one, { onset_s: 'fitted', drift: true }),
  },
  { name: 'Theil–Sen', size: 20_000, make: pointsOfALine, run: (one) => theilSenLine(one) },
  {
    name: 'Passing–Bablok',
    size: 20_000,
    make: pointsOfALine,
    run: (one) => passingBablokLine(one),
  },
];

/** Processor time in ms: what others do on the machine counts little in it. */
const timed = (run) => {
  const from = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
};

let failures = 0;
for (const { name, size, make, run } of CASES) {
  const [one, two] = [make(size), make(2 * size)];
  run(one);
  run(two);
  let [small, large] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let round = 0; round < ROUNDS; round++) {
    small = Math.min(
      small,
      timed(() => run(one)),
    );
    large = Math.min(
      large,
      timed(() => run(two)),
    );
  }
  const ratio = large / small;
  if (ratio > MOST) failures++;
  console.log(
    `${name}: ${size} → ${2 * size}, ${small.toFixed(0)} → ${large.toFixed(0)} ms, ratio ${ratio.toFixed(2)}${ratio > MOST ? ` (more than ${MOST})` : ''}`,
  );
}
if (failures > 0) process.exit(1);
