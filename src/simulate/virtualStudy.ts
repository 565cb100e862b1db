import Papa from 'papaparse';
import { argumentWrong } from '../error.js';
import { seededRandom } from '../statistics/random.js';
import { requireShape } from '../statistics/shapes.js';
import type { MeterRole } from '../vocabulary.js';
import { displayText } from './displayText.js';
import type { Scenario } from './scenario.js';
import { scenarioSeries, type WrittenSeries } from './scenarioSeries.js';
import { studyReadme } from './studyReadme.js';
import { type StudyTruth, studyTruth } from './studyTruth.js';

/** Content of the files of a study folder, by name; and what truth.json holds, as data. */
export interface VirtualStudy {
  readonly files: Readonly<Record<string, string>>;
  readonly truth: StudyTruth;
}

/**
 * Which files would this invented study have left in its folder? `study.json`, `runs.csv`,
 * `traces.csv` and `opinions.json` where the scenario has them, `truth.json` and `README.md`.
 *
 * The same scenario gives the same bytes.
 *
 * @throws argument-wrong for a scenario that contradicts itself; reading-not-positive when a
 * display would show nothing.
 */
export function virtualStudy(scenario: Scenario): VirtualStudy {
  requireShape(scenario, 'A scenario', {
    fields: { seed: 'number', series: { list: { fields: {} } } },
  });
  const random = seededRandom(scenario.seed);
  const written = scenario.series.map((plan) => scenarioSeries(scenario, plan, random));
  const truth = studyTruth(scenario, written);
  const traces = written.flatMap((one) => one.traces);
  const files: Record<string, string> = {
    'README.md': studyReadme(scenario, truth),
    'study.json': json(scenario.study),
    'runs.csv':
      scenario.layout === 'tidy' ? tidyRows(scenario, written) : sideBySideRows(scenario, written),
    'truth.json': json(truth),
  };
  if (traces.length > 0) {
    files['traces.csv'] = csv(
      traces.flatMap((trace) =>
        trace.elapsed_s.map((elapsed_s, at) => ({
          series: trace.series,
          run: trace.run,
          meter: trace.meter,
          elapsed_s,
          reading_mW: display(scenario, trace.meter, trace.reading_mW[at]!),
        })),
      ),
    );
  }
  if (scenario.opinions !== undefined) files['opinions.json'] = json(scenario.opinions);
  return { files, truth };
}

function tidyRows(scenario: Scenario, written: readonly WrittenSeries[]): string {
  return csv(
    scenario.series.flatMap((plan, index) =>
      written[index]!.runs.map((run) => ({
        series: plan.id,
        source: plan.source,
        started_at: startedAt(scenario, plan.starts_min, run.time_s),
        meter: run.meter,
        setting_nm: run.setting_nm,
        filter: plan.filter ?? null,
        zero_mW: display(scenario, run.meter, run.zero_mW),
        reading_mW: run.typed_mW,
        peak_mW: display(scenario, run.meter, run.peak_mW),
        exclude: run.exclude,
        note: run.note,
      })),
    ),
  );
}

/** One row a lap; what does not fit in such a table is refused rather than dropped. */
function sideBySideRows(scenario: Scenario, written: readonly WrittenSeries[]): string {
  return csv(
    scenario.series.flatMap((plan, index) => {
      const { runs } = written[index]!;
      if (plan.setting !== undefined || plan.filter !== undefined || plan.trace !== undefined) {
        throw argumentWrong('A side-by-side table has no place for this series.', plan.id);
      }
      const order = scenario.study.protocol?.order ?? 'reference-first';
      if ((plan.bench.order ?? 'reference-first') !== order) {
        throw argumentWrong('A side-by-side table has one order for all series.', plan.id, order);
      }
      return Array.from({ length: plan.bench.laps }, (_, lap) => {
        const pair = runs.slice(2 * lap, 2 * lap + 2);
        const typed = (meter: MeterRole) => pair.find((run) => run.meter === meter)!.typed_mW;
        const words = (list: readonly (string | null)[]) =>
          list.filter((one) => one !== null).join('; ') || null;
        return {
          series: plan.id,
          source: plan.source,
          started_at: startedAt(scenario, plan.starts_min, pair[0]!.time_s),
          reference_mW: typed('reference'),
          candidate_mW: typed('candidate'),
          exclude: words(pair.map((run) => run.exclude)),
          note: words(pair.map((run) => run.note)),
        };
      });
    }),
  );
}

type Cell = string | number | null;

/** Rows as CSV text without the columns that nobody filled. */
function csv(rows: readonly Readonly<Record<string, Cell>>[]): string {
  const columns = Object.keys(rows[0] ?? {}).filter((name) =>
    rows.some((row) => row[name] !== null),
  );
  return `${Papa.unparse([...rows], { columns, newline: '\n' })}\n`;
}

function display(scenario: Scenario, meter: MeterRole, value_mW: number | null): string | null {
  return value_mW === null ? null : displayText(scenario.study[meter].resolution_mW, value_mW);
}

function startedAt(scenario: Scenario, starts_min: number, time_s: number): string | null {
  if (scenario.opens_at === null) return null;
  const moment = Date.parse(scenario.opens_at) + 1000 * (60 * starts_min + time_s);
  return new Date(moment).toISOString().replace('.000Z', 'Z');
}

/** JSON for people: two blanks, and lists of numbers on one line. */
function json(value: unknown): string {
  const text = JSON.stringify(value, null, 2);
  return `${text.replace(/\[\s+(-?[\d.e+-]+(?:,\s+-?[\d.e+-]+)*)\s+\]/g, (list) =>
    list.replace(/\s+/g, ' ').replace('[ ', '[').replace(' ]', ']'),
  )}\n`;
}
