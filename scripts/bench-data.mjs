// Invented data of any size for the benchmarks and the size test; the same size gives the same data.
import { seededRandom } from '../dist/inside.js';

/** A study of several series, alternated in the order ABBA, each with so many rows. */
export function longStudy(series, rows) {
  const random = seededRandom(series * 1_000_003 + rows);
  const lines = ['series,source,meter,reading_mW,started_at'];
  for (let s = 0; s < series; s++) {
    const factor = 1.1 * (1 + 0.01 * random.normal());
    for (let i = 0; i < rows; i++) {
      const candidate = [false, true, true, false][i % 4];
      const power = 80 * (1 - (0.02 * i) / rows) * (1 + 0.003 * random.normal());
      const shown = (candidate ? power / factor : power).toFixed(2);
      lines.push(
        `s${s + 1},green,${candidate ? 'candidate' : 'reference'},${shown},${(s * rows + i) * 50}`,
      );
    }
  }
  const settings = {
    title: 'Invented',
    reference: {
      name: 'R',
      resolution_mW: 0.01,
      expanded_uncertainty_percent: 3,
      coverage_factor: 2,
    },
    candidate: { name: 'C', resolution_mW: 0.01 },
    sources: [{ name: 'green', wavelength_nm: 520 }],
    protocol: { order: 'ABBA' },
    tolerance_percent: 5,
  };
  return { settings, runs: `${lines.join('\n')}\n` };
}

/** One minute of a sensor with a time constant of 2 s, on a source that falls slowly. */
export function longTrace(readings) {
  const random = seededRandom(readings);
  const [tau, onset, drift] = [2, 1.3, -0.0005];
  const elapsed_s = Array.from(
    { length: readings },
    (_, i) => Math.round((6e7 * i) / (readings - 1)) / 1e6,
  );
  const reading_mW = elapsed_s.map((time) => {
    const s = time - onset;
    const power = s > 0 ? 80 * ((1 - drift * tau) * -Math.expm1(-s / tau) + drift * s) : 0;
    return Math.round(1e4 * (power + 0.05 * random.normal())) / 1e4;
  });
  return { elapsed_s, reading_mW };
}

export function pointsOfALine(count) {
  const random = seededRandom(count);
  const x = Array.from({ length: count }, () => 10 + 90 * random.uniform());
  return { x, y: x.map((value) => 1.1 * value + random.normal()) };
}
