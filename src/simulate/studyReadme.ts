import { formatNumber, significant } from '../findings/formatNumber.js';
import type { Scenario, ScenarioMeter } from './scenario.js';
import type { StudyTruth } from './studyTruth.js';

/** README.md of an invented study: that it is invented, its story, what is hidden, the truth. */
export function studyReadme(scenario: Scenario, truth: StudyTruth): string {
  const { study } = scenario;
  return `${[
    `# ${study.title}`,
    '**Invented.** No such place, people, meters or lasers exist. A virtual bench made every number, so the truth is known; it stands in `truth.json`, which the analysis never reads.',
    ...scenario.story,
    '## What stood on the bench',
    [
      `- Reference: ${meterText(study.reference)}.`,
      `- Candidate: ${meterText(study.candidate)}.`,
      ...study.sources.map(
        (source) => `- Source "${source.name}": ${source.wavelength_nm} nm, ${labelText(source)}.`,
      ),
    ].join('\n'),
    '## What is hidden',
    list(scenario.hidden),
    '## What a good analysis should find',
    list(scenario.expect),
    '## The truth',
    'A candidate reading is multiplied by K. *K to this reference* is what a perfect comparison with this reference would find; *K to the truth* also takes away the error of the reference; *K shown* is what the readings of this series show when noise and drift are taken away and everything systematic stays.',
    truthTable(scenario, truth),
    ...slipsText(truth),
    `Made again by \`node scripts/make-demo.mjs\` after a build (seed ${scenario.seed}); the same seed gives the same bytes.`,
  ].join('\n\n')}\n`;
}

function list(items: readonly string[]): string {
  return items.map((item) => `- ${item}`).join('\n');
}

function meterText(meter: ScenarioMeter): string {
  const stated =
    meter.expanded_uncertainty_percent === undefined
      ? 'no uncertainty stated'
      : `stated uncertainty ${meter.expanded_uncertainty_percent} % (k = ${meter.coverage_factor ?? 2})`;
  const setting =
    meter.wavelength_setting === true ? 'has to be told the wavelength' : 'no wavelength setting';
  return `"${meter.name}", display step ${meter.resolution_mW} mW, ${stated}, ${setting}`;
}

function labelText(source: Scenario['study']['sources'][number]): string {
  if (source.label_class === undefined) return 'no label';
  const power = source.label_max_mW === undefined ? '' : `, ${source.label_max_mW} mW`;
  return `label: class ${source.label_class}${power}`;
}

function slipsText(truth: StudyTruth): readonly string[] {
  const slips = truth.series.flatMap((one) =>
    one.slips.map(
      ({ run, meter, shown_mW, typed_mW }) =>
        `- Series "${one.id}", run ${run} (${meter}): ${typed_mW} mW typed, ${short(shown_mW)} mW shown.`,
    ),
  );
  return slips.length === 0 ? [] : ['Typed wrongly:', slips.join('\n')];
}

function truthTable(scenario: Scenario, truth: StudyTruth): string {
  const rows = truth.series.map((one, index) => {
    const { bench, setting, filter } = scenario.series[index]!;
    const powers = one.power_mW;
    const range = `${short(Math.min(...powers))} to ${short(Math.max(...powers))}`;
    const factors =
      setting === undefined
        ? [one.factor_to_reference, one.factor_to_truth, one.apparent_factor].map(four)
        : [
            `setting ${setting.from_nm} ÷ ${setting.to_nm} nm: ${four(one.factor_to_reference)}`,
            '–',
            four(one.apparent_factor),
          ];
    const cells = [
      filter === undefined ? one.id : `${one.id} (${filter})`,
      one.source,
      `${one.wavelength_nm}`,
      `${bench.laps}`,
      bench.order ?? 'reference-first',
      range,
      ...factors,
    ];
    return `| ${cells.join(' | ')} |`;
  });
  return [
    '| series | source | nm | laps | order | true mW | K to this reference | K to the truth | K shown |',
    '|---|---|---|---|---|---|---|---|---|',
    ...rows,
  ].join('\n');
}

const four = (value: number) => formatNumber(value, { places: 4 });
const short = (value: number) => significant(value, 3);
