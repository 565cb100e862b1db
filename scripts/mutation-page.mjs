// docs/mutation.md as rows, and the rows as docs/mutation.md.
import jStat from 'jstat';

const HEAD = `# Faults put in on purpose

\`npm run mutate -- ROOM --write\` changes a room in one place after the other (a sign, a comparison, a condition, a value that is left out) and runs its quick tests each time. A fault that no test sees is read: it gets a test, or it changes nothing that anybody could see. Texts are left alone. Wanted are 85 % and more.

With \`--sample N\` the faults are a simple random sample of all those in the files that no other row has. Its share carries the exact (Clopper–Pearson) 95 % interval, and is kept as it was before its unseen faults were given tests; a row with a later seed is a new sample, drawn after that.

| what | tests beside its own | seed | faults | put in | seen | not seen | of these change nothing | share seen |
|---|---|---|---|---|---|---|---|---|
`;
const FOOT = `
The last line is the stratified estimate Σ W p: each row (of a room sampled twice, the later sample) has the share p that was seen of its n faults and the weight W of its N faults among all. Its variance is Σ W² (1 − n/N) p′(1 − p′)/(n − 1), the usual one of a stratified sample, with p′ = (seen + 1)/(n + 2) so that a sample all of which was seen is not taken for certain; the interval is ± 1.96 standard deviations. So it is the estimate for the tests as they were before those that its unseen faults brought. Not in it: what only renders (\`figures\`, \`report\`, \`terminal\`, \`notebook\`, the sentences of \`findings\`), what runs only in the browser (\`measure/page\`) or as a whole program (of \`commands\` \`main\`, \`compare\`, \`measure\` and \`notebook\`), the files that stand in no room, and rooms or files that no row names.
`;

const percent = (share) => `${(100 * share).toFixed(1)} %`;

/** The rows of the page: what, tests, seed ('–' where all faults were put in), faults, seen, unseen, equal. */
export const rowsOf = (page) =>
  page
    .split('\n')
    .filter((line) => line.startsWith('| `'))
    .map((line) => line.split('|').map((cell) => cell.trim()))
    .map(([, what, tests, seed, faults, , seen, unseen, equal]) => ({
      ...{ what: what.replaceAll('`', ''), tests, seed, equal },
      ...{ faults: Number(faults), seen: Number(seen), unseen: Number(unseen) },
    }));

/** Clopper and Pearson (1934): the shares that a count of `seen` among `n` does not contradict at 95 %. */
export const exactInterval = (seen, n) => [
  seen === 0 ? 0 : jStat.beta.inv(0.025, seen, n - seen + 1),
  seen === n ? 1 : jStat.beta.inv(0.975, seen + 1, n - seen),
];

/** The share of all faults that is seen, with its 95 % interval; the formula stands on the page. */
export function stratified(rows) {
  const all = rows.reduce((sum, { faults }) => sum + faults, 0);
  let share = 0;
  let variance = 0;
  for (const { faults, seen, unseen } of rows) {
    const n = seen + unseen;
    const weight = faults / all;
    const shrunk = (seen + 1) / (n + 2);
    share += (weight * seen) / n;
    if (n < faults) variance += (weight ** 2 * (1 - n / faults) * shrunk * (1 - shrunk)) / (n - 1);
  }
  const half = 1.96 * Math.sqrt(variance);
  return { share, low: share - half, high: Math.min(1, share + half) };
}

function lineOf({ what, tests, seed, faults, seen, unseen, equal }) {
  const n = seen + unseen;
  const [low, high] = exactInterval(seen, n).map(percent);
  const score = `${percent(seen / n)}${seed === '–' ? '' : ` (${low} to ${high})`}`;
  return `| \`${what}\` | ${[tests, seed, faults, n, seen, unseen, equal, score].join(' | ')} |`;
}

/** The page of these rows. */
export function pageOf(rows) {
  const sorted = rows.toSorted(
    (a, b) => (a.what < b.what ? -1 : a.what > b.what ? 1 : 0) || Number(a.seed) - Number(b.seed),
  );
  const latest = sorted.filter(({ what }, place) => sorted[place + 1]?.what !== what);
  const total = (of) => latest.reduce((sum, row) => sum + of(row), 0);
  const { share, low, high } = stratified(latest);
  const last = [
    ...['all', '', '', total(({ faults }) => faults), total(({ seen, unseen }) => seen + unseen)],
    ...[total(({ seen }) => seen), total(({ unseen }) => unseen), ''],
    `${percent(share)} (${percent(low)} to ${percent(high)})`,
  ];
  return `${HEAD}${sorted.map(lineOf).join('\n')}\n| ${last.join(' | ')} |\n${FOOT}`;
}
