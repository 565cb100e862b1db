// Which interval of an uncertainty budget holds the truth how often, and how wide is it?
//
//   npm run build && node scripts/interval-rule-study.mjs [--studies 4000] [--seed 1]
//
// Prints the table of docs/measured.md. Truth and estimates are drawn as a frequentist
// would: the error of a part of type A is normal with its true σ, and s² = σ²·χ²(ν)/ν is all the
// budget knows of σ; parts of type B err by their stated shape. Width: mean half-width over that of
// the exact interval for which every σ is known.
import { parseArgs } from 'node:util';
import { KNOWN_EXACTLY } from '../dist/index.js';
import { seededRandom } from '../dist/inside.js';
import {
  coverageFactor,
  coverageOfBudget,
  effectiveDof,
  exactDistribution,
} from '../dist/methods.js';

const { values } = parseArgs({
  options: {
    studies: { type: 'string', default: '4000' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
  },
});
const studies = Number(values.studies);
const CONFIDENCE = 0.95;

const t = (u, dof) => ({ shape: 'student', standard_uncertainty: u, dof });
const certificate = (u) => ({ shape: 'normal', standard_uncertainty: u, dof: KNOWN_EXACTLY });
const flat = (u) => ({ shape: 'rectangular', standard_uncertainty: u, dof: KNOWN_EXACTLY });

/** True standard deviations in percent of K. */
const SCENARIOS = [
  ['repeatability ν 3 alone', [t(1, 3)]],
  ['repeatability ν 5, certificate alike', [t(1, 5), certificate(1)]],
  ['repeatability ν 20, between ν 8, certificate', [t(0.5, 20), t(1, 8), certificate(1.25)]],
  [
    'balanced: ν 6, ν 8, certificate, four rectangles',
    [t(0.6, 6), t(0.7, 8), certificate(1), flat(0.6), flat(0.4), flat(0.3), flat(0.3)],
  ],
  ['three series: ν 10, between ν 2 (2 %)', [t(0.3, 10), t(2, 2), certificate(1.25), flat(0.1)]],
  ['three series: ν 10, between ν 2 (4 %)', [t(0.3, 10), t(4, 2), certificate(1.25), flat(0.1)]],
  ['between ν 2 as large as the rest', [t(0.5, 10), t(1, 2), certificate(1), flat(0.3)]],
  ['between ν 2 small', [t(0.5, 10), t(0.4, 2), certificate(1.25), flat(0.3)]],
  ['two series that contradict: ν 1 dominates', [t(0.4, 8), t(3, 1), certificate(1.25), flat(0.1)]],
  ['ν 1 as large as the rest', [t(0.4, 8), t(1.2, 1), certificate(1.25), flat(0.1)]],
  ['ν 1 small', [t(0.4, 8), t(0.4, 1), certificate(1.25), flat(0.1)]],
  ['ν 1 with a third of it at ν 20', [t(1, 1), t(0.3, 20)]],
  ['ν 2 with a third of it at ν 20', [t(1, 2), t(0.3, 20)]],
  ['ν 3 with a third of it at ν 20', [t(1, 3), t(0.3, 20)]],
  ['ν 4 with half of it at ν 20', [t(1, 4), t(0.5, 20)]],
  [
    'corrected reading: ν 6, ν 8, ν 8, ν 5',
    [t(0.4, 6), t(0.8, 8), t(1, 8), t(0.5, 5), certificate(1)],
  ],
  ['several t: ν 3, ν 3, ν 3', [t(1, 3), t(1, 3), t(1, 3)]],
  ['several t: ν 2, ν 4, ν 8', [t(1, 2), t(1, 4), t(1, 8)]],
  ['several t: ν 1, ν 2', [t(1, 1), t(1, 2)]],
  ['one wide rectangle, ν 6, certificate', [t(0.5, 6), certificate(0.5), flat(4)]],
  ['wide rectangle and between ν 2', [t(0.3, 8), t(1, 2), certificate(0.5), flat(3)]],
  ['wide rectangle alone with ν 1', [t(0.5, 1), flat(3)]],
  ['certificate dominates', [t(0.3, 6), t(0.4, 8), certificate(2.5), flat(0.2)]],
].filter(([name]) => name.includes(values.only));

const ws = (parts) => ({
  u: Math.hypot(...parts.map((p) => p.standard_uncertainty)),
  dof: effectiveDof(parts),
});
const half = (parts) => exactDistribution(parts).coverageInterval(CONFIDENCE)[1];

/** Normal parts and t parts from `least` degrees of freedom on as one t, the rest exactly. */
const joined = (parts, least) => {
  const joins = (p) => p.shape === 'normal' || (p.shape === 'student' && p.dof >= least);
  const { u, dof } = ws(parts.filter(joins));
  return half([t(u, dof), ...parts.filter((p) => !joins(p))]);
};

/** The rules under test: half-width from the estimated parts. */
const RULES = {
  formula: (parts) => {
    const { u, dof } = ws(parts);
    return coverageFactor(CONFIDENCE, dof) * u;
  },
  exact: half,
  // Welch–Satterthwaite for normal and t parts, bounded parts exactly.
  joined: (parts) => joined(parts, 0),
  // The same, but t parts with few degrees of freedom keep their own distribution.
  'joined from ν 3': (parts) => joined(parts, 3),
  // The rule of the package: joined from ν 4.
  'the rule': (parts) =>
    coverageOfBudget(
      parts.map((p) => ({ ...p, relative_standard_uncertainty: p.standard_uncertainty })),
      CONFIDENCE,
    ).high,
};

const random = seededRandom(Number(values.seed));
const chiSquare = (dof) => {
  let sum = 0;
  for (let i = 0; i < dof; i++) sum += random.normal() ** 2;
  return sum;
};
const names = Object.keys(RULES);
console.log(`| budget (true σ in %) | ${names.map((n) => `${n}: coverage | width`).join(' | ')} |`);
console.log(`|---|${names.map(() => '---|---').join('|')}|`);
const all = Object.fromEntries(names.map((n) => [n, []]));
for (const [name, truth] of SCENARIOS) {
  const oracle = half(truth.map((p) => (p.shape === 'student' ? { ...p, shape: 'normal' } : p)));
  const sums = Object.fromEntries(names.map((n) => [n, { held: 0, width: 0 }]));
  for (let i = 0; i < studies; i++) {
    let error = 0;
    const parts = truth.map((p) => {
      const u = p.standard_uncertainty;
      error +=
        p.shape === 'rectangular'
          ? u * Math.sqrt(3) * (2 * random.uniform() - 1)
          : u * random.normal();
      return p.shape === 'student'
        ? { ...p, standard_uncertainty: u * Math.sqrt(chiSquare(p.dof) / p.dof) }
        : p;
    });
    for (const n of names) {
      const width = RULES[n](parts);
      if (Math.abs(error) <= width) sums[n].held++;
      sums[n].width += width;
    }
  }
  const cells = names.map((n) => {
    const coverage = (100 * sums[n].held) / studies;
    all[n].push(coverage);
    return `${coverage.toFixed(1)} | ${(sums[n].width / studies / oracle).toFixed(2)}`;
  });
  console.log(`| ${name} | ${cells.join(' | ')} |`);
}
console.log(
  `| lowest and highest | ${names.map((n) => `${Math.min(...all[n]).toFixed(1)} to ${Math.max(...all[n]).toFixed(1)} | `).join(' | ')} |`,
);
