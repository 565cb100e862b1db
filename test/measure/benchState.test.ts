import { describe, expect, test } from 'vitest';
import { answerOf } from '../../src/measure/answer.js';
import { addLaps, closeSeries, takeBack } from '../../src/measure/changeSeries.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { FACTORS, LAPS, SHEET, STUDY, shownRuns } from './evening.js';
import { play, stateOf, written } from './playing.js';

const EVENING = shownRuns();
const files = (runs: string) => ({ study: STUDY, runs });

describe('what is next', () => {
  test('on an empty sheet: the first planned run, with all that has to be known', () => {
    const { step, runs } = stateOf(SHEET);
    expect(step).toMatchObject({
      do: 'run',
      row: 2,
      series: 'green bench diode',
      source: 'green bench diode',
      wavelength_nm: 520,
      meter: 'reference',
      meter_name: 'Bench head R',
      lap: 1,
      laps: 4,
      run: 1,
      runs: 8,
      unit: 'mW',
      asks: { setting: true, zero: true, peak: true },
      set: 'set to 520 nm',
      read_at_s: 2,
    });
    expect(runs).toEqual([]);
  });

  test('follows the planned order: ABBA BAAB', () => {
    const meters = Array.from({ length: 8 }, (_, run) => {
      const { step } = stateOf(play(SHEET, EVENING.slice(0, run)));
      return step.do === 'run' ? step.meter[0] : '';
    });
    expect(meters.join('')).toBe('rccrcrrc');
  });

  test('asks for a setting once a meter and series, and never a meter without one', () => {
    const asked = [0, 1, 2, 3].map((run) => {
      const { step } = stateOf(play(SHEET, EVENING.slice(0, run)));
      return step.do === 'run' && step.asks.setting;
    });
    expect(asked).toEqual([true, false, false, false]);
    const text = play(SHEET, EVENING.slice(0, 4));
    const [first, , , fourth] = parseStudy(STUDY, { runs: text }).series[0]!.runs;
    expect([first?.setting_nm, fourth?.setting_nm]).toEqual([520, 520]);
  });

  test('a film may be of every written run and of the next one', () => {
    const text = play(SHEET, EVENING.slice(0, 2));
    const common = { unit: 'mW', read_at_s: 2 };
    expect(stateOf(text).filmable).toEqual([
      { row: 2, name: '"green bench diode", run 1, reference', next: null, ...common },
      { row: 3, name: '"green bench diode", run 2, candidate', next: null, ...common },
      {
        row: 4,
        name: '"green bench diode", run 3, candidate',
        next: { zero: true, time: 'must' },
        ...common,
      },
    ]);
    expect(stateOf(SHEET).filmable.map(({ row, next }) => [row, next?.time])).toEqual([[2, 'may']]);
    // Between two series nothing is next until the first one is closed.
    expect(stateOf(play(SHEET, EVENING.slice(0, 2 * LAPS))).filmable).toHaveLength(2 * LAPS);
  });

  test('invisible light and a label are named in front of the cautions', () => {
    const [green, red] = [SHEET, closedAfter(2 * LAPS)].map((text) => {
      const { step } = stateOf(text);
      return step.do === 'run' ? step.cautions : [];
    });
    expect(green?.[0]).toContain('The label says class 3R and 5 mW; do not rely on it.');
    expect(red?.[0]).toContain('808 nm: invisible');
    expect(red?.[0]).toContain('No class is stated');
    expect(green?.join()).toContain('Never look into the beam');
  });
});

/** The evening up to a run, its last series closed. */
function closedAfter(runs: number): string {
  return written(closeSeries(files(play(SHEET, EVENING.slice(0, runs)))));
}

describe('K and the difference', () => {
  test('stand nowhere in the state while a series is open', () => {
    for (let run = 1; run <= 2 * LAPS; run += 1) {
      const state = stateOf(play(SHEET, EVENING.slice(0, run)));
      expect(state.closed).toEqual([]);
      expect(JSON.stringify(state)).not.toContain('K = ');
    }
  });

  test('nothing but the list of what was typed changes when one meter reads a fifth more', () => {
    const raised = EVENING.slice(0, 8).map((one) => {
      if (one.meter === 'reference') return one;
      const more = (text: string) => (1.2 * Number(text)).toFixed(3);
      return {
        meter: one.meter,
        zero: more(one.zero),
        reading: more(one.reading),
        peak: more(one.peak),
      };
    });
    // A display that can have shown both.
    const fine = { ...STUDY, candidate: { ...STUDY.candidate, resolution_mW: 0.001 } };
    for (let run = 1; run <= 8; run += 1) {
      const [a, b] = [EVENING, raised].map((shown) => {
        const text = play(SHEET, shown.slice(0, run), fine);
        // Alarms name the highest display, which is what was typed.
        const { plot, runs, alarms: _, ...rest } = stateOf(text, fine);
        expect(runs.length).toBe(run);
        return {
          ...rest,
          plot: plot.map((point) => ({ ...point, percent: Math.round(1e6 * point.percent) })),
        };
      });
      // The step of the display is worth less beside a higher reading, and the planner knows it.
      if (run === 8) expect(b?.step.do).toBe('close');
      else expect(b).toEqual(a);
    }
  });

  test('are told when a series is closed, up to the first run of the next', () => {
    const closed = closedAfter(8);
    expect(stateOf(closed).closed[0]).toMatch(/K = 1\.1\d+ ± 0\.0\d+/);
    expect(stateOf(closed).closed[0]).toContain('from 4 laps.');
    // 1/1.12 − 1
    expect(stateOf(closed).closed[0]).toMatch(/candidate reads 1[01] % low of the reference/);
    const without = written(
      takeBack(files(play(SHEET, EVENING.slice(0, 8))), { row: 4, reason: 'knocked head' }),
    );
    const said = stateOf(written(closeSeries(files(without)))).closed[0];
    expect(said).toContain('from 3 of 4 laps.');
    const next = play(closed, [EVENING[8]!]);
    expect(stateOf(next).closed).toEqual([]);
  });

  test('and the truth lies where they say', () => {
    const text = written(closeSeries(files(play(closedAfter(8), EVENING.slice(8)))));
    const { step, closed } = stateOf(text);
    expect(step.do).toBe('compare');
    // 1/0.88 − 1
    expect(closed[1]).toMatch(/candidate reads 1[34] % high of the reference/);
    const found = closed.map((said) => Number(/K = ([\d.]+)/.exec(said)?.[1]));
    for (const [i, factor] of FACTORS.entries()) {
      expect(Math.abs(found[i]! / factor - 1)).toBeLessThan(0.01);
    }
  });
});

describe('the end of a series', () => {
  test('is reached when its planned laps are done, not before', () => {
    expect(stateOf(play(SHEET, EVENING.slice(0, 7))).step.do).toBe('run');
    expect(stateOf(play(SHEET, EVENING.slice(0, 8))).step.do).toBe('close');
  });

  test('says what the laps bring, and that they are enough', () => {
    const { step } = stateOf(play(SHEET, EVENING.slice(0, 8)), {
      ...STUDY,
      tolerance_percent: 15,
    });
    expect(step).toMatchObject({ do: 'close', more: 0 });
    expect(step.do === 'close' && step.sentences[0]).toMatch(/^4 laps of /);
    expect(step.do === 'close' && step.sentences.join(' ')).toContain('wanted is ± 15 %');
  });

  test('says how many more laps would bring the wanted U, and with them it does', () => {
    // Scatter of 3 %: four laps are few.
    const noisy = EVENING.slice(0, 8).map((one, i) => ({
      ...one,
      reading: (Number(one.reading) * (1 + [0.02, -0.03, 0.03, -0.02][i % 4]!)).toFixed(1),
      peak: '',
    }));
    const { step } = stateOf(play(SHEET, noisy), { ...STUDY, tolerance_percent: 9 });
    if (step.do !== 'close') throw new Error('not done');
    expect(step.more).toBeGreaterThan(0);
    expect(step.more! % 4).toBe(0);
    expect(step.sentences.join(' ')).toContain(`${step.more} more laps would bring`);
  });

  test('says so when the certificate forbids it whatever the laps', () => {
    const { step } = stateOf(play(SHEET, EVENING.slice(0, 8)), { ...STUDY, tolerance_percent: 2 });
    expect(step).toMatchObject({ do: 'close', more: null });
    expect(step.do === 'close' && step.sentences.join(' ')).toContain('certificate');
  });

  test('laps that are added follow the order, below the series, here and in later ones', () => {
    const two = `${SHEET}green again,green bench diode,reference,,,,,,,\ngreen again,green bench diode,candidate,,,,,,,\n`;
    const text = written(addLaps(files(play(two, EVENING.slice(0, 8))), { laps: 4 }));
    const { step } = stateOf(text);
    expect(step).toMatchObject({ do: 'run', row: 10, lap: 5, laps: 8, meter: 'reference' });
    const lines = text.trimEnd().split('\n');
    expect(lines.slice(9, 17).map((line) => line.split(',')[2]![0])).toEqual([...'rccrcrrc']);
    expect(lines.at(-1)).toMatch(/^green again,.*lap 5, added/);
    expect(lines.filter((line) => line.startsWith('near-infrared')).length).toBe(8);
  });

  test('laps cannot be added once it is closed, nor before the planned ones are done', () => {
    expect(addLaps(files(closedAfter(8)), { laps: 4 }).kind).toBe('refused');
    expect(addLaps(files(play(SHEET, EVENING.slice(0, 5))), { laps: 4 }).kind).toBe('refused');
    expect(closeSeries(files(play(SHEET, EVENING.slice(0, 5)))).kind).toBe('refused');
  });
});

describe('a run that is taken back', () => {
  test('keeps its row and its numbers, with the reason in exclude', () => {
    const before = play(SHEET, EVENING.slice(0, 5));
    const text = written(takeBack(files(before), { row: 4, reason: 'knocked head' }));
    const run = parseStudy(STUDY, { runs: text }).series[0]!.runs[2]!;
    expect(run).toMatchObject({ row: 4, exclude: 'knocked head' });
    expect(text.split('\n')[3]).toContain(EVENING[2]!.reading);
    expect(stateOf(text).plot[2]?.excluded).toBe(true);
    expect(stateOf(text).step).toMatchObject({ do: 'run', row: 7 });
  });

  test('is refused once its series is closed and K was seen', () => {
    const answer = takeBack(files(closedAfter(8)), { row: 4, reason: 'knocked head' });
    expect(answer).toMatchObject({ kind: 'refused' });
  });

  test('own words can be no formula in a spreadsheet', () => {
    const before = play(SHEET, EVENING.slice(0, 2));
    const reason = '=HYPERLINK("http://x","y")\u0007\nsecond line';
    const text = written(takeBack(files(before), { row: 2, reason }));
    const { exclude } = parseStudy(STUDY, { runs: text }).series[0]!.runs[0]!;
    expect(exclude).toBe(`'=HYPERLINK("http://x","y") second line`);
  });

  test.each([
    ['no', 2],
    ['', 2],
    ['knocked head', 9],
    ['knocked head', 1],
  ])('"%s" for row %i is refused', (reason, row) => {
    const text = play(SHEET, EVENING.slice(0, 2));
    expect(answerOf(() => takeBack(files(text), { row, reason })).kind).toBe('refused');
  });
});

describe('what has to be known before the next switch-on', () => {
  test('a display above the label: the highest that either meter showed, peaks included', () => {
    const { alarms } = stateOf(play(SHEET, EVENING.slice(0, 3)));
    const highest = Math.max(
      ...EVENING.slice(0, 3).map(({ peak, zero }) => Number(peak) - Number(zero)),
    );
    expect(alarms).toEqual([expect.stringContaining(`was seen at ${highest.toFixed(1)} mW`)]);
    expect(alarms[0]).toContain('its label says 5 mW');
  });

  test('stays when the run is taken back, and is silent without a label', () => {
    const one = play(SHEET, EVENING.slice(0, 1));
    const back = written(takeBack(files(one), { row: 2, reason: 'clipped beam' }));
    expect(stateOf(back).alarms.length).toBe(1);
    expect(
      stateOf(written(closeSeries(files(play(closedAfter(8), EVENING.slice(8)))))).alarms,
    ).toEqual([]);
  });

  test('a meter beyond its rating', () => {
    const study = { ...STUDY, candidate: { ...STUDY.candidate, rated_max_mW: 50 } };
    const { alarms, notices } = stateOf(play(SHEET, EVENING.slice(0, 2)), study);
    expect(alarms.join()).toContain('The candidate showed more than it is rated for (50 mW)');
    expect(notices.join()).not.toContain('rated');
  });
});
