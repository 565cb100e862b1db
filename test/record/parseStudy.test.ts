import { describe, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { codesOf, errorOf, PLAIN, studyOf, TIDY, TWO_SOURCES, warningOf } from './support.js';

describe('a plain study', () => {
  test('one row a run becomes one series with one lap', () => {
    const study = studyOf(TIDY);
    expect(study.layout).toBe('tidy');
    expect(study.series).toHaveLength(1);
    expect(study.series[0]).toMatchObject({
      source: 'green',
      wavelength_nm: 520,
      kind: 'comparison',
      timed: false,
      filter: null,
    });
    expect(study.series[0]?.runs).toEqual([
      {
        run: 1,
        lap: 1,
        row: 2,
        meter: 'reference',
        reading_mW: 46.2,
        scale: 1,
        peak_mW: null,
        zero_mW: null,
        time_s: 0,
        setting_nm: null,
        exclude: null,
        checked: false,
        note: null,
      },
      {
        run: 2,
        lap: 1,
        row: 3,
        meter: 'candidate',
        reading_mW: 41.8,
        scale: 1,
        peak_mW: null,
        zero_mW: null,
        time_s: 1,
        setting_nm: null,
        exclude: null,
        checked: false,
        note: null,
      },
    ]);
    expect(study.warnings).toEqual([]);
  });

  test('one row a lap becomes the same readings', () => {
    const study = studyOf('reference_mW,candidate_mW\n46.2,41.8\n', {
      ...PLAIN,
      protocol: { order: 'reference-first' },
    });
    expect(study.layout).toBe('side-by-side');
    const runs = study.series[0]?.runs ?? [];
    expect(runs.map((run) => [run.run, run.lap, run.row, run.meter, run.reading_mW])).toEqual([
      [1, 1, 2, 'reference', 46.2],
      [2, 1, 2, 'candidate', 41.8],
    ]);
    expect(study.warnings).toEqual([]);
  });

  test('the zero is subtracted from reading and peak, and kept', () => {
    const study = studyOf('meter,reading_mW,peak_mW,zero_mW\nreference,46,50,-2\ncandidate,41,,1');
    expect(study.series[0]?.runs.map((run) => [run.reading_mW, run.peak_mW, run.zero_mW])).toEqual([
      [48, 52, -2],
      [40, null, 1],
    ]);
  });

  test('note, setting and exclude are kept as typed', () => {
    const study = studyOf(
      'meter,reading_mW,setting_nm,exclude,note\nreference,46,532,shutter bumped,"hot, humid"\ncandidate,41,,,',
    );
    expect(study.series[0]?.runs[0]).toMatchObject({
      setting_nm: 532,
      exclude: 'shutter bumped',
      note: 'hot, humid',
    });
    expect(study.series[0]?.runs[1]).toMatchObject({ setting_nm: null, exclude: null, note: null });
  });

  test('side by side, exclude and note belong to both runs of the lap', () => {
    const study = studyOf('reference_mW,candidate_mW,exclude,note\n46,41,knocked,n1\n46,41,,');
    expect(study.series[0]?.runs.map((run) => run.exclude)).toEqual([
      'knocked',
      'knocked',
      null,
      null,
    ]);
    expect(study.series[0]?.runs[1]?.note).toBe('n1');
  });
});

describe('orders', () => {
  const laps = '46,41\n'.repeat(8);
  // A is the reference; the patterns spelt out run by run.
  test.each([
    ['reference-first', 'ABABABABABABABAB'],
    ['candidate-first', 'BABABABABABABABA'],
    ['ABBA', 'ABBAABBAABBAABBA'],
    ['ABBA-BAAB', 'ABBABAABABBABAAB'],
  ])('side by side, %s means %s', (order, letters) => {
    const study = studyOf(`reference_mW,candidate_mW\n${laps}`, { ...PLAIN, protocol: { order } });
    const runs = study.series[0]?.runs ?? [];
    expect(runs.map((run) => (run.meter === 'reference' ? 'A' : 'B')).join('')).toBe(letters);
    expect(runs.map((run) => run.reading_mW)).toEqual(
      [...letters].map((letter) => (letter === 'A' ? 46 : 41)),
    );
    expect(runs.map((run) => run.lap)).toEqual(runs.map((_, index) => Math.floor(index / 2) + 1));
  });

  test('the order starts anew in every series', () => {
    const study = studyOf('series,reference_mW,candidate_mW\na,1,2\nb,1,2', {
      ...PLAIN,
      protocol: { order: 'ABBA' },
    });
    expect(study.series.map((series) => series.runs[0]?.meter)).toEqual(['reference', 'reference']);
  });

  test('side by side without a stated order assumes reference-first and says so', () => {
    const study = studyOf('reference_mW,candidate_mW\n46,41');
    expect(study.protocol.order).toBe('reference-first');
    expect(warningOf(study, 'order-default')).toContain('reference-first is assumed');
  });

  test('rows that differ from the stated order count, with a warning', () => {
    const runs = 'meter,reading_mW\nreference,46\ncandidate,41\nreference,46\ncandidate,41';
    const study = studyOf(runs, { ...PLAIN, protocol: { order: 'ABBA' } });
    expect(study.series[0]?.runs.map((run) => run.meter)).toEqual([
      'reference',
      'candidate',
      'reference',
      'candidate',
    ]);
    const warning = study.warnings.find(({ code }) => code === 'order-differs');
    expect(warning?.message).toContain('lap 2');
    expect(warning?.series).toBe(study.series[0]?.id);
    const right = studyOf(runs, { ...PLAIN, protocol: { order: 'reference-first' } });
    expect(codesOf(right)).not.toContain('order-differs');
  });
});

describe('series', () => {
  test('a lap is two neighbours of different meters; a run without a partner has none', () => {
    const rows = ['reference', 'reference', 'candidate', 'candidate', 'reference', 'reference'];
    const study = studyOf(`meter,reading_mW\n${rows.map((meter) => `${meter},5`).join('\n')}`);
    expect(study.series[0]?.runs.map((run) => run.lap)).toEqual([null, 1, 1, 2, 2, null]);
  });

  test('series keep the order of the file and count runs and laps on their own', () => {
    const study = studyOf(
      'series,meter,reading_mW\nb,reference,1\nb,candidate,2\na,candidate,3\na,reference,4',
    );
    expect(study.series.map((series) => series.id)).toEqual(['b', 'a']);
    expect(study.series[1]?.runs.map((run) => [run.run, run.lap, run.row])).toEqual([
      [1, 1, 4],
      [2, 1, 5],
    ]);
  });

  test('names that mean something to JavaScript are names like any other', () => {
    const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];
    const rows = names.flatMap((name) => [`${name},reference,4`, `${name},candidate,3`]);
    const study = studyOf(`series,meter,reading_mW\n${rows.join('\n')}`);
    expect(study.series.map((series) => series.id)).toEqual(names);
    expect(study.series.every((series) => series.runs.length === 2)).toBe(true);
  });

  test('a series that comes back after another one is refused with its row', () => {
    const error = errorOf(() =>
      studyOf('series,reference_mW,candidate_mW\na,1,2\nb,1,2\na,1,2\na,1,2'),
    );
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 4, column: 'series' });
    expect(error.message).toMatch(/"a" comes back.*row 2/);
    expect(error.others).toHaveLength(0);
  });

  test('an empty series cell between named ones is refused', () => {
    const error = errorOf(() => studyOf('series,reference_mW,candidate_mW\na,1,2\n,1,2'));
    expect(error).toMatchObject({ code: 'cell-missing', row: 3, column: 'series' });
  });

  test('one meter alone under two settings is a setting series', () => {
    const study = studyOf(
      'series,meter,reading_mW,setting_nm\ns,reference,5,520\ns,reference,6,650\nc,reference,5,\nc,candidate,4,',
    );
    expect(study.series.map((series) => series.kind)).toEqual(['setting', 'comparison']);
    expect(study.series[0]?.runs.map((run) => run.lap)).toEqual([null, null]);
  });

  test('one meter alone without two settings is refused, with what would be right', () => {
    const error = errorOf(() => studyOf('meter,reading_mW\ncandidate,5\ncandidate,6'));
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 2 });
    expect(error.message).toContain('candidate only');
    expect(error.expected).toMatch(/both meters.*setting_nm/);
    const oneSetting = 'meter,reading_mW,setting_nm\nreference,5,520\nreference,6,520';
    expect(errorOf(() => studyOf(oneSetting)).code).toBe('row-inconsistent');
  });

  test('a setting series needs the setting of every run that counts', () => {
    const rows = 'meter,reading_mW,setting_nm,exclude\nreference,5,520,\nreference,6,650,\n';
    const error = errorOf(() => studyOf(`${rows}reference,6,,`));
    expect(error).toMatchObject({ code: 'cell-missing', row: 4, column: 'setting_nm' });
    expect(studyOf(`${rows}reference,6,,setting forgotten`).series[0]?.runs).toHaveLength(3);
  });

  test('a setting that changes within a comparison is warned of', () => {
    const study = studyOf(
      'meter,reading_mW,setting_nm\nreference,5,520\ncandidate,6,\nreference,5,650\ncandidate,6,',
    );
    expect(warningOf(study, 'setting-mixed')).toContain('520 or 650');
  });
});

describe('sources and wavelengths', () => {
  test('with one listed source neither column nor cell is needed', () => {
    const study = studyOf('source,meter,reading_mW\n,reference,5\ngreen,candidate,4');
    expect(study.series[0]?.source).toBe('green');
  });

  test('with two listed sources the column is needed', () => {
    const error = errorOf(() => studyOf(TIDY, TWO_SOURCES));
    expect(error).toMatchObject({ code: 'column-missing', column: 'source' });
    expect(error.message).toContain('2 sources');
  });

  test('an empty source cell is refused when there are two sources', () => {
    const error = errorOf(() =>
      studyOf('source,meter,reading_mW\ngreen,reference,5\n,candidate,4', TWO_SOURCES),
    );
    expect(error).toMatchObject({ code: 'cell-missing', row: 3, column: 'source' });
  });

  test('an unknown source is refused with the known names and a suggestion', () => {
    const error = errorOf(() =>
      studyOf('source,meter,reading_mW\ngren,reference,5\ngreen,candidate,4', TWO_SOURCES),
    );
    expect(error).toMatchObject({ code: 'cell-unknown-word', row: 2, column: 'source' });
    expect(error.message).toContain('Did you mean "green"?');
    expect(error.expected).toBe('green or red');
  });

  test('a series on two sources is refused, with or without a series column', () => {
    for (const runs of [
      'source,meter,reading_mW\ngreen,reference,5\nred,candidate,4',
      'series,source,meter,reading_mW\na,green,reference,5\na,red,candidate,4',
    ]) {
      const error = errorOf(() => studyOf(runs, TWO_SOURCES));
      expect(error).toMatchObject({ code: 'row-inconsistent', row: 3, column: 'source' });
      expect(error.expected).toContain('new series');
    }
  });

  test('wavelength_nm of the rows overrides that of the source', () => {
    const study = studyOf('meter,reading_mW,wavelength_nm\nreference,5,515.5\ncandidate,4,515.5');
    expect(study.series[0]?.wavelength_nm).toBe(515.5);
    expect(study.sources[0]?.wavelength_nm).toBe(520);
  });

  test('a wavelength that changes within a series is refused', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,wavelength_nm\nreference,5,515\ncandidate,4,'),
    );
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 3, column: 'wavelength_nm' });
    expect(error.found).toBe('515 before and 520 here');
  });

  test.each(['149', '20001', '-520', '0', '0.52'])('%s nm is no wavelength', (typed) => {
    const error = errorOf(() =>
      studyOf(`meter,reading_mW,wavelength_nm\nreference,5,${typed}\ncandidate,4,${typed}`),
    );
    expect(error).toMatchObject({ code: 'cell-out-of-range', row: 2, column: 'wavelength_nm' });
    expect(error.expected).toContain('150 to 20000');
  });

  test('a study of one source may leave sources out when the rows carry the wavelength', () => {
    const { sources: _, ...bare } = PLAIN;
    const unnamed = studyOf(
      'meter,reading_mW,wavelength_nm\nreference,5,520\ncandidate,4,520',
      bare,
    );
    expect(unnamed.sources).toEqual([
      {
        name: 'source',
        wavelength_nm: 520,
        label_class: null,
        label_max_mW: null,
        emission: null,
        beam_diameter_mm: null,
      },
    ]);
    const named = studyOf('source,reference_mW,candidate_mW,wavelength_nm\nviolet,5,4,405', bare);
    expect(named.series[0]).toMatchObject({ source: 'violet', wavelength_nm: 405 });
    const empty = { ...bare, sources: [] };
    expect(studyOf('reference_mW,candidate_mW,wavelength_nm\n5,4,405', empty).sources).toHaveLength(
      1,
    );
  });

  test('without sources, a missing wavelength or a second source is refused', () => {
    const { sources: _, ...bare } = PLAIN;
    expect(errorOf(() => studyOf(TIDY, bare))).toMatchObject({
      code: 'column-missing',
      column: 'wavelength_nm',
    });
    const head = 'series,source,reference_mW,candidate_mW,wavelength_nm';
    expect(errorOf(() => studyOf(`${head}\na,g,5,4,520\nb,r,5,4,520`, bare))).toMatchObject({
      code: 'row-inconsistent',
      row: 3,
      column: 'source',
    });
    expect(errorOf(() => studyOf(`${head}\na,g,5,4,520\nb,g,5,4,650`, bare))).toMatchObject({
      code: 'row-inconsistent',
      row: 3,
      column: 'wavelength_nm',
    });
    expect(errorOf(() => studyOf(`${head}\na,g,5,4,520\nb,g,5,4,`, bare))).toMatchObject({
      code: 'cell-missing',
      row: 3,
      column: 'wavelength_nm',
    });
  });
});

describe('filters', () => {
  const filtered = {
    ...PLAIN,
    filters: [
      {
        name: 'short pass',
        transmissions: [{ wavelength_nm: 520, transmission: 0.92, standard_uncertainty: 0.01 }],
      },
    ],
  };

  test('the filter of a series is kept', () => {
    const study = studyOf(
      'series,filter,reference_mW,candidate_mW\na,,5,4\nb,short pass,5,4',
      filtered,
    );
    expect(study.series.map((series) => series.filter)).toEqual([null, 'short pass']);
    expect(study.filters).toEqual(filtered.filters);
  });

  test('a filter that is missing among listed ones is refused', () => {
    const runs = 'filter,reference_mW,candidate_mW\nshort-pas,5,4';
    const error = errorOf(() => studyOf(runs, filtered));
    expect(error).toMatchObject({ code: 'cell-unknown-word', row: 2, column: 'filter' });
    expect(error.message).toContain('Did you mean "short pass"?');
    expect(error.expected).toContain('short pass');
  });

  test('a filter where none is listed is read, with one warning: what is behind it is not known', () => {
    const study = studyOf('series,filter,reference_mW,candidate_mW\na,grey,5,4\nb,dark,5,4');
    expect(study.series.map((series) => series.filter)).toEqual(['grey', 'dark']);
    expect(study.filters).toEqual([]);
    expect(codesOf(study).filter((code) => code === 'filter-not-stated')).toHaveLength(1);
    expect(warningOf(study, 'filter-not-stated')).toContain('"grey"');
  });

  test('a filter may be listed without its transmissions', () => {
    const study = studyOf('filter,reference_mW,candidate_mW\ngrey,5,4', {
      ...PLAIN,
      filters: [{ name: 'grey' }],
    });
    expect(study.filters).toEqual([{ name: 'grey', transmissions: [] }]);
    expect(codesOf(study)).not.toContain('filter-not-stated');
  });

  test('a filter that changes within a series is refused', () => {
    const error = errorOf(() =>
      studyOf('filter,reference_mW,candidate_mW\nshort pass,5,4\n,5,4', filtered),
    );
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 3, column: 'filter' });
  });
});

describe('readings that cannot be', () => {
  test.each(['0', '-0.3', '0.0'])('a reading of %s is refused with a way out', (typed) => {
    const error = errorOf(() => studyOf(`meter,reading_mW\nreference,5\ncandidate,${typed}`));
    expect(error).toMatchObject({ code: 'cell-out-of-range', row: 3, column: 'reading_mW' });
    expect(error.message).toMatch(/zero offset/);
    expect(error.expected).toContain('exclude');
  });

  test('a reading that its zero takes to zero or below is refused, naming both', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,zero_mW\nreference,5,\ncandidate,0.3,0.4'),
    );
    expect(error).toMatchObject({ code: 'cell-out-of-range', row: 3 });
    expect(error.found).toBe('"0.3" less the zero "0.4"');
    expect(error.message).toContain('decimal place may have slipped');
    expect(error.others).toHaveLength(0);
  });

  test('side by side, the column of the meter is named', () => {
    const error = errorOf(() => studyOf('reference_mW,candidate_mW\n5,4\n-1,4'));
    expect(error).toMatchObject({ code: 'cell-out-of-range', row: 3, column: 'reference_mW' });
  });

  test('an excluded run may read zero or less', () => {
    const study = studyOf(
      'meter,reading_mW,exclude\nreference,5,\ncandidate,-1,beam blocked\nreference,5,\ncandidate,4,',
    );
    expect(study.series[0]?.runs[1]).toMatchObject({ reading_mW: -1, exclude: 'beam blocked' });
  });

  test('a peak below the settled reading is refused, naming both', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,peak_W\nreference,46.2,0.0461\ncandidate,4,0.004'),
    );
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 2, column: 'peak_W' });
    expect(error.found).toBe('peak "0.0461" and reading_mW "46.2"');
    expect(error.others).toHaveLength(0);
  });

  test('readings and peaks above what the meter is rated for are warned of, by row', () => {
    const study = studyOf(
      'meter,reading_mW,peak_mW\nreference,1900,\ncandidate,990,1001\nreference,1000,\ncandidate,1200,\ncandidate,1000,1000',
      { ...PLAIN, candidate: { name: 'drawer meter', rated_max_mW: 1000 } },
    );
    const warnings = study.warnings.filter(({ code }) => code === 'above-rated-max');
    expect(warnings).toHaveLength(1);
    expect(warnings[0]?.message).toMatch(/2 readings above the 1000 mW .*rows 3, 5\)/);
  });

  test('of more than five such rows the first five are named', () => {
    const rows = [1, 2, 3, 4, 5, 6].map(() => 'candidate,1001');
    const study = studyOf(`meter,reading_mW\nreference,1000\n${rows.join('\n')}`, {
      ...PLAIN,
      candidate: { name: 'drawer meter', rated_max_mW: 1000 },
    });
    const warning = study.warnings.find(({ code }) => code === 'above-rated-max');
    expect(warning?.message).toMatch(/6 readings .*rows 3, 4, 5, 6, 7 …\)/);
  });
});

describe('exclude', () => {
  test.each(['no', 'No', 'yes', 'x', '1', '0', 'false', '-', 'n/a'])(
    '"%s" is no reason and is refused',
    (typed) => {
      const error = errorOf(() =>
        studyOf(`meter,reading_mW,exclude\nreference,5,${typed}\ncandidate,4,`),
      );
      expect(error).toMatchObject({ code: 'cell-unknown-word', row: 2, column: 'exclude' });
      expect(error.expected).toContain('empty cell');
    },
  );

  test.each(['no beam', 'cold start', 'Verschluss klemmte', '振动'])(
    '"%s" is a reason',
    (typed) => {
      const study = studyOf(`meter,reading_mW,exclude\nreference,5,${typed}\ncandidate,4,`);
      expect(study.series[0]?.runs[0]?.exclude).toBe(typed);
    },
  );
});

describe('columns', () => {
  test('headings are taken in any mix of capitals and with spaces around', () => {
    const study = studyOf(' METER , Reading_mw \nReference,46.2\nCANDIDATE,41.8');
    expect(study.series[0]?.runs.map((run) => run.reading_mW)).toEqual([46.2, 41.8]);
  });

  test.each([
    ['reading_mW', '46.2'],
    ['reading_W', '0.0462'],
    ['reading_uW', '46200'],
    ['reading_\u00B5W', '46200'],
    ['reading_\u03BCW', '46200'],
  ])('%s of %s is 46.2 mW', (heading, typed) => {
    const study = studyOf(`meter,${heading}\nreference,${typed}\ncandidate,${typed}`);
    expect(study.series[0]?.runs[0]?.reading_mW).toBe(46.2);
  });

  test('every power column has its own unit', () => {
    const study = studyOf('meter,reading_W,peak_mW,zero_uW\nreference,1,1500,2000\ncandidate,1,,');
    expect(study.series[0]?.runs[0]).toMatchObject({ reading_mW: 998, peak_mW: 1498, zero_mW: 2 });
    const pair = studyOf('reference_W,candidate_\u00B5W\n0.05,40000');
    expect(pair.series[0]?.runs.map((run) => run.reading_mW)).toEqual([50, 40]);
  });

  test('two columns for one quantity are refused', () => {
    const error = errorOf(() => studyOf('meter,reading_uW,reading_\u00B5W\nreference,46,46'));
    expect(error).toMatchObject({
      code: 'column-twice',
      file: 'runs.csv',
      column: 'reading_\u00B5W',
    });
    expect(error.found).toContain('reading_uW');
    expect(errorOf(() => studyOf('meter,note,note,reading_mW\nreference,,,5')).code).toBe(
      'column-twice',
    );
  });

  test.each([
    ['meter,raeding_mW', 'reading_mW', 'raeding_mW'],
    ['meter,Reading (mW)', 'reading_mW', 'Reading (mW)'],
    ['meter,reading', 'reading_mW', 'reading'],
    ['metre,reading_mW', 'meter', 'metre'],
    ['ref_mW,candidate_mW', 'reference_mW', 'ref_mW'],
    ['reference_mW,candiate_mW', 'candidate_mW', 'candiate_mW'],
  ])('"%s" lacks %s, and "%s" is named as its misspelling', (headings, column, typed) => {
    const error = errorOf(() => studyOf(`${headings}\nreference,4`));
    expect(error).toMatchObject({ code: 'column-missing', file: 'runs.csv', column });
    expect(error.message).toContain(`"${typed}" looks like a misspelling`);
  });

  test('a table of neither layout is told about both', () => {
    const error = errorOf(() => studyOf('time,power\n1,2'));
    expect(error.code).toBe('column-missing');
    expect(error.expected).toMatch(/reading_mW.*reference_mW/);
    expect(error.found).toContain('time, power');
  });

  test('a table without a heading row is refused', () => {
    expect(errorOf(() => studyOf('reference,46.2\ncandidate,41.8')).code).toBe('column-missing');
  });

  test('columns of both layouts in one table are refused', () => {
    const error = errorOf(() => studyOf('meter,reading_mW,reference_mW\nreference,4,4'));
    expect(error.code).toBe('csv-invalid');
    expect(error.message).toContain('two layouts');
  });

  test.each(['peak_mW', 'zero_uW', 'setting_nm'])(
    'side by side, %s is refused, not passed over',
    (heading) => {
      const error = errorOf(() => studyOf(`reference_mW,candidate_mW,${heading}\n5,4,6`));
      expect(error).toMatchObject({ code: 'column-unknown', column: heading });
    },
  );

  test('an unknown column is warned of, with what it may have meant', () => {
    const study = studyOf('meter,reading_mW,exlude,humidity\nreference,5,,40\ncandidate,4,,40');
    const messages = study.warnings
      .filter(({ code }) => code === 'unknown-column')
      .map(({ message }) => message);
    expect(messages).toHaveLength(2);
    expect(messages[0]).toContain('Did you mean "exclude"?');
    expect(messages[1]).toContain('"humidity"');
    expect(messages[1]).not.toContain('Did you mean');
  });
});

describe('faults', () => {
  test('several faults of several files are reported at once, each with its place', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW\nref,46.2\ncandidate,many\nreference,\nreference,46', {
        ...PLAIN,
        confidence: 95,
      }),
    );
    expect([error, ...error.others].map(({ file, row, code }) => [file, row, code])).toEqual([
      ['study.json', undefined, 'study-field-wrong'],
      ['runs.csv', 2, 'cell-unknown-word'],
      ['runs.csv', 3, 'cell-not-a-number'],
      ['runs.csv', 4, 'cell-missing'],
    ]);
    expect(error.message.split('\n')).toHaveLength(4);
  });

  test('beyond ten faults the rest is counted', () => {
    const rows = Array.from({ length: 25 }, () => 'reference,much').join('\n');
    const error = errorOf(() => studyOf(`meter,reading_mW\n${rows}`));
    expect(error.others).toHaveLength(10);
    expect(error.others.at(-1)?.message).toMatch(/^15 more faults/);
  });

  test.each([null, undefined, 7, { runs: 7 }, {}, { runs: TIDY, traces: 7 }])(
    'files given as %j are refused as an argument',
    (files) => {
      const call = parseStudy as (study: unknown, files: unknown) => unknown;
      expect(errorOf(() => call(PLAIN, files)).code).toBe('argument-wrong');
    },
  );
});
