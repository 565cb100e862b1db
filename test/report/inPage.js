/** Functions that the report's browser test runs inside the page. */

export function everyFigureDrawn() {
  const places = [...document.querySelectorAll('.plot')];
  return places.length > 0 && places.every((place) => place.querySelector('.main-svg') !== null);
}

/** Whether the figures are drawn anew for the width of the window. */
export function figuresFit() {
  return [...document.querySelectorAll('.plot')].every((place) => {
    const drawn = place.querySelector('.main-svg')?.getBoundingClientRect().width ?? 0;
    return Math.abs(drawn - place.clientWidth) < 2;
  });
}

/** Elements that stick out of the window. */
export function overflow() {
  const width = document.documentElement.clientWidth;
  const wide = document.documentElement.scrollWidth > width ? ['the page scrolls sideways'] : [];
  const out = [
    ...document.querySelectorAll('main *:not(.plot *):not(thead *):not(thead):not(.scroll *)'),
  ]
    .filter((one) => one.getBoundingClientRect().right > width + 1)
    .map((one) => `${one.tagName} ${one.textContent?.slice(0, 40)}`);
  return [...wide, ...out];
}

/** Captions of tables that scroll sideways: how many, and which reach beyond the window. */
export function scrolledCaptions() {
  const all = [...document.querySelectorAll('.scroll caption')];
  const width = document.documentElement.clientWidth;
  const beyond = all.filter((one) => one.getBoundingClientRect().right > width);
  return { captions: all.length, beyond: beyond.map((one) => one.textContent) };
}

/** Ranges for which ticks of the first figure, drawn so wide, do not stand level. */
export async function turnedTicks(width) {
  const { data, layout } = document.querySelector('.plot');
  const place = document.body.appendChild(document.createElement('div'));
  const turned = [];
  for (const low of [-95, -42, -17, -9, -6]) {
    for (const high of [6, 12, 22, 70]) {
      const xaxis = { ...layout.xaxis, range: [low, high] };
      await window.Plotly.newPlot(place, data, { ...layout, autosize: false, width, xaxis });
      const ticks = [...place.querySelectorAll('.xtick text')];
      const level = ticks.every(
        (one) => !/rotate\((?!0)/.test(one.getAttribute('transform') ?? ''),
      );
      if (ticks.length < 3 || !level) turned.push(`${low} to ${high}: ${ticks.length}`);
    }
  }
  place.remove();
  return turned;
}

/** Texts of a figure that overlap each other or leave the figure. */
export function textFaults() {
  return [...document.querySelectorAll('.plot')].flatMap((plot) => {
    const frame = plot.getBoundingClientRect();
    const texts = [...plot.querySelectorAll('.main-svg text')]
      .filter((one) => one.textContent?.trim() && !one.closest('.hoverlayer'))
      .map((one) => ({ words: one.textContent ?? '', box: one.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && box.height > 0);
    const cut = texts
      .filter(({ box }) => box.left < frame.left - 2 || box.right > frame.right + 2)
      .map(({ words }) => `${plot.id}: "${words}" is cut off`);
    const crossed = texts.flatMap((a, i) =>
      texts.slice(i + 1).flatMap((b) => {
        const x = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const y = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        return x > 2 && y > 4 ? [`${plot.id}: "${a.words}" over "${b.words}"`] : [];
      }),
    );
    return [...cut, ...crossed];
  });
}

/** Notes how wide the figures are after the page has fitted itself to paper. */
export function notePrintedWidths() {
  window.addEventListener('beforeprint', () => {
    document.body.dataset.printed = [...document.querySelectorAll('.plot .main-svg')]
      .map((one) => one.getAttribute('width'))
      .join(' ');
  });
}

/** The widths noted while printing, in px. */
export function printedWidths() {
  return (document.body.dataset.printed ?? '').split(' ').map(Number);
}

/** Whether a text from a data file ran as a script. */
export function hacked() {
  return 'hacked' in window;
}

/** Texts of the page as a reader meets them, block by block, with single spaces. */
export function textBlocks() {
  const kinds = 'p, li, td, th, dt, dd, caption, figcaption, h1, h2, h3';
  return [...document.querySelectorAll(kinds)]
    .filter((one) => !one.closest('.plot, noscript') && one.querySelector('p, li') === null)
    .map((one) => (one.textContent ?? '').replace(/\s+/g, ' ').trim());
}

/** Caption and first row heading of every table. */
export function tablesOf() {
  const text = (one) => (one?.textContent ?? '').replace(/\s+/g, ' ').trim();
  return [...document.querySelectorAll('table')].map((table) => ({
    caption: text(table.querySelector('caption')),
    first: text(table.querySelector('tbody th')),
  }));
}

/** Texts set smaller than `least` px. */
export function smallType(least) {
  const own = (one) =>
    [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim());
  return [...document.querySelectorAll('main *')]
    .filter((one) => own(one) && !one.closest('noscript, script, style, .plot'))
    .filter((one) => Number.parseFloat(getComputedStyle(one).fontSize) < least - 0.01)
    .map(
      (one) => `${one.tagName} ${getComputedStyle(one).fontSize} ${one.textContent?.slice(0, 40)}`,
    );
}

/** How wide the table of the answer is, and the box that it has to fit into, px. */
export function widthOfAnswer() {
  const table = document.querySelector('.answer table');
  return { table: table?.scrollWidth ?? 0, box: table?.parentElement?.clientWidth ?? 0 };
}
