/** Runs in the page: what a person sees, as numbers. */

/** Contrast of every text with what is behind it (WCAG 2.2, relative luminance and contrast ratio). */
export function contrasts() {
  const numbers = (color) => (color.match(/[\d.]+/g) ?? []).map(Number);
  const luminance = ([r, g, b]) =>
    [r, g, b]
      .map((c) => c / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
      .reduce((sum, c, i) => sum + [0.2126, 0.7152, 0.0722][i] * c, 0);
  const behind = (element) => {
    for (let at = element; at !== null; at = at.parentElement) {
      const own = numbers(getComputedStyle(at).backgroundColor);
      if (own.length === 3 || own[3] > 0) return own;
    }
    return [255, 255, 255];
  };
  const over = (front, back, share) => front.map((c, i) => share * c + (1 - share) * back[i]);
  const seen = [];
  const add = (what, color, element, opacity = 1) => {
    const [r, g, b, alpha = 1] = numbers(color);
    const back = behind(element).slice(0, 3);
    const front = over([r, g, b], back, alpha * opacity);
    const [high, low] = [luminance(front), luminance(back)].sort((x, y) => y - x);
    seen.push({
      what,
      contrast: (high + 0.05) / (low + 0.05),
      grey: front.every((c) => Math.abs(c - front[0]) < 1),
    });
  };
  for (const element of document.querySelectorAll('body *')) {
    const style = getComputedStyle(element);
    const said = [...element.childNodes].some(
      (node) => node.nodeType === 3 && node.data.trim() !== '',
    );
    if (said)
      add(
        element.className || element.tagName,
        element.closest('svg') ? style.fill : style.color,
        element,
      );
    if (element.tagName === 'INPUT') {
      add('input', style.color, element);
      const faint = getComputedStyle(element, '::placeholder');
      add('placeholder', faint.color, element, Number(faint.opacity));
    }
    if (element.closest('svg') && element.tagName !== 'svg' && style.stroke !== 'none')
      add('stroke', style.stroke, element);
  }
  return seen;
}

/** Height of a digit in px of what has to be read from two metres, and whether the page runs over. */
export function sizes() {
  const height = (selector) => {
    const element = document.querySelector(selector);
    if (element === null) return null;
    const style = getComputedStyle(element);
    const canvas = document.createElement('canvas').getContext('2d');
    canvas.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const { actualBoundingBoxAscent } = canvas.measureText('8');
    return actualBoundingBoxAscent;
  };
  const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  const bottom = document.querySelector('.digits input')?.getBoundingClientRect().bottom ?? 0;
  const covered = bottom > (document.querySelector('.keys')?.getBoundingClientRect().top ?? bottom);
  return { digits: height('.digits input'), clock: height('.clock'), over, covered };
}

/** Counts the tones that the page sets, by their frequency. */
export function countTones() {
  window.tones = [];
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (at) {
    window.tones.push({ hertz: this.frequency.value, in_s: at - this.context.currentTime });
    return start.call(this, at);
  };
}

export const tonesSet = () => window.tones;

/** Whether the page says something of this pattern. */
export const says = (pattern) => new RegExp(pattern).test(document.body.textContent);

/** Whether the reading is due. */
export const dueNow = () => /READ|\+/.test(document.querySelector('.clock')?.textContent ?? '');

/** A film of an invented display that counts tenths of a second, as the browser records it. */
export async function recordFilm() {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [320, 180];
  const pen = canvas.getContext('2d');
  const recorder = new MediaRecorder(canvas.captureStream(30), { mimeType: 'video/webm' });
  const parts = [];
  recorder.addEventListener('dataavailable', ({ data }) => parts.push(data));
  const ended = new Promise((done) => recorder.addEventListener('stop', done));
  recorder.start();
  const began = performance.now();
  await new Promise((done) => {
    const draw = () => {
      const seconds = (performance.now() - began) / 1000;
      pen.fillStyle = '#fff';
      pen.fillRect(0, 0, 320, 180);
      pen.fillStyle = '#000';
      pen.font = '80px sans-serif';
      pen.fillText(seconds.toFixed(1), 60, 120);
      if (seconds < 5) setTimeout(draw, 30);
      else done();
    };
    draw();
  });
  recorder.stop();
  await ended;
  return [...new Uint8Array(await new Blob(parts).arrayBuffer())];
}
