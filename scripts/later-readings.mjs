// Whole evenings with a known truth, and how later readings fare: for the study of corrections and for
// the tests that hold its bars.

export const LASER = 520;
export const LAPS = 8;
export const NOISE = 0.005;
const STEP_MW = 0.01;

/** What the candidate shows at a true power: the factor belongs to what it shows, without its offset. */
function shownAt(power, factorAt) {
  let shown = power / factorAt(power);
  for (let i = 0; i < 30; i++) shown = power / factorAt(shown);
  return shown;
}

/**
 * One evening: series at each power, every one seated anew. Placement, certificate (U, k = 2) and what is
 * stated of the placement are fractions, the offset of the candidate and its display step mW.
 */
export function evening({ parseStudy, runOrder }, random, design) {
  const { powers, series, placement, certificate, stated, factorAt, offset } = design;
  const { step_mW = STEP_MW, protocol = {} } = design;
  const reference_error = (certificate / 2) * random.normal();
  const rows = ['series,source,meter,reading_mW,started_at'];
  let seconds = 0;
  let id = 0;
  const display = (value) => (Math.round(value / step_mW) * step_mW).toFixed(2);
  for (const nominal of powers) {
    for (let s = 0; s < series; s++) {
      id++;
      const seated = Math.exp(placement * random.normal());
      for (const [i, meter] of runOrder('ABBA-BAAB', LAPS).entries()) {
        const power = nominal * Math.exp(-0.0005 * i) * (1 + 0.001 * random.normal());
        const noisy = 1 + NOISE * random.normal();
        const reading =
          meter === 'reference'
            ? power * (1 + reference_error) * noisy
            : shownAt(power, factorAt) * seated * noisy + offset;
        seconds += 60;
        rows.push(`s${id},laser,${meter},${display(reading)},${seconds}`);
      }
      seconds += 900;
    }
  }
  const meter = { name: 'meter', resolution_mW: step_mW, wavelength_setting: false };
  const description = {
    title: 'Coverage of corrections',
    reference: {
      ...meter,
      expanded_uncertainty_percent: 100 * certificate,
      coverage_factor: 2,
    },
    candidate: meter,
    sources: [{ name: 'laser', wavelength_nm: LASER }],
    protocol: { order: 'ABBA-BAAB', ...protocol },
    tolerance_percent: 5,
    ...(stated === null ? {} : { between_series_percent: 100 * stated }),
  };
  return parseStudy(description, { runs: rows.join('\n') });
}

/** Share of later readings whose interval holds the power, at each power asked for, and the mean U. */
export function held(meterpair, { random, studies, design, laterPowers }) {
  const { analyse, correct, factorsOf } = meterpair;
  const asked = {};
  const perStudy = [];
  let width = 0;
  let n = 0;
  for (let i = 0; i < studies; i++) {
    const study = evening(meterpair, random, design);
    const factors = factorsOf(study, analyse(study));
    let own = 0;
    const later = laterPowers(random);
    for (const [where, power] of later) {
      const seated = Math.exp(design.placement * random.normal());
      const noisy = 1 + NOISE * random.normal();
      const reading_mW = shownAt(power, design.factorAt) * seated * noisy + design.offset;
      const { value, U, low, high } = correct(factors, { reading_mW, wavelength_nm: LASER });
      const inside = low <= power && power <= high;
      asked[where] ??= { n: 0, inside: 0 };
      asked[where].n++;
      if (inside) asked[where].inside++;
      if (inside) own++;
      width += U / value;
      n++;
    }
    perStudy.push(own / later.length);
  }
  const mean = perStudy.reduce((sum, x) => sum + x, 0) / studies;
  const variance = perStudy.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (studies - 1);
  return { asked, mean, error: Math.sqrt(variance / studies), half: width / n };
}

/** How the candidate may depend on the power: name, K against its indication, offset in mW. */
export const SHAPES = [
  ['one factor', () => 1.1, 0],
  ['4 % more per decade', (shown) => 1.1 * Math.exp(0.04 * Math.log10(shown / 150)), 0],
  ['offset of 1.5 mW', () => 1.1, 1.5],
  [
    'droop, 6 % above 400 mW',
    (shown) => 1.1 / (1 - 0.06 * Math.max(0, (shown - 400) / (1090 - 400))),
    0,
  ],
];

/** Readings at each of the powers, and three between the lowest and the highest. */
export const atAndBetween = (powers) => (random) => [
  ...powers.map((power) => [power, power]),
  ...Array.from({ length: 3 }, () => [
    'between',
    powers[0] * (powers[powers.length - 1] / powers[0]) ** random.uniform(),
  ]),
];
