// A browser's picture of a figure with at most 256 colours: a quarter of its bytes, and looks the same.
// PNG: W3C Recommendation, third edition (2025), clauses 5, 7, 9 and 11; clause numbers from memory.
import { crc32, deflateSync, inflateSync } from 'node:zlib';

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const CHANNELS = { 2: 3, 6: 4 };

/**
 * @param {Uint8Array} png 8 bits a channel, RGB or RGBA, not interlaced, as browsers write them
 * @returns {Buffer} the same on white, with a palette; the shades that are rarest go to their nearest
 * @throws Error for another kind of PNG
 */
export function smallPng(png) {
  const { width, height, pixels } = readPng(png);
  const places = placeColours(pixels);
  const palette = [...places.kept];
  const rows = Buffer.alloc((width + 1) * height);
  for (let i = 0; i < pixels.length; i += 1) {
    rows[Math.floor(i / width) * (width + 1) + 1 + (i % width)] = places.of.get(pixels[i]);
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 3, 0, 0, 0], 8);
  const colours = Buffer.from(palette.flatMap((rgb) => [rgb >> 16, (rgb >> 8) & 255, rgb & 255]));
  return Buffer.concat([
    SIGNATURE,
    chunk('IHDR', header),
    chunk('PLTE', colours),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/**
 * @param {Uint8Array} png
 * @returns {{ width: number, height: number, pixels: Uint32Array }} 0xRRGGBB, on white
 */
export function readPng(png) {
  const bytes = Buffer.from(png);
  const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
  const [depth, type, , , interlaced] = bytes.subarray(24, 29);
  const parts = [];
  let palette = Buffer.alloc(0);
  for (let at = 8; at < bytes.length; at += bytes.readUInt32BE(at) + 12) {
    const name = bytes.toString('latin1', at + 4, at + 8);
    const data = bytes.subarray(at + 8, at + 8 + bytes.readUInt32BE(at));
    if (name === 'IDAT') parts.push(data);
    if (name === 'PLTE') palette = data;
  }
  const channels = type === 3 ? 1 : CHANNELS[type];
  if (!bytes.subarray(0, 8).equals(SIGNATURE) || depth !== 8 || !channels || interlaced !== 0) {
    throw new Error('This is no PNG as a browser writes it.');
  }
  const raw = unfiltered(inflateSync(Buffer.concat(parts)), width * channels, height, channels);
  const pixels = new Uint32Array(width * height);
  for (let i = 0; i < pixels.length; i += 1) {
    const [from, at] = type === 3 ? [palette, 3 * raw[i]] : [raw, channels * i];
    const alpha = type === 6 ? raw[at + 3] / 255 : 1;
    const [r, g, b] = [0, 1, 2].map((c) => Math.round(255 + alpha * (from[at + c] - 255)));
    pixels[i] = (r << 16) | (g << 8) | b;
  }
  return { width, height, pixels };
}

function unfiltered(data, stride, height, channels) {
  const out = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y += 1) {
    const filter = data[y * (stride + 1)];
    for (let x = 0; x < stride; x += 1) {
      const at = y * stride + x;
      const left = x < channels ? 0 : out[at - channels];
      const above = y === 0 ? 0 : out[at - stride];
      const corner = x < channels || y === 0 ? 0 : out[at - stride - channels];
      out[at] = data[at + y + 1] + predicted(filter, left, above, corner);
    }
  }
  return out;
}

function predicted(filter, left, above, corner) {
  if (filter === 0) return 0;
  if (filter === 1) return left;
  if (filter === 2) return above;
  if (filter === 3) return (left + above) >> 1;
  const [a, b, c] = [left, above, corner].map((one) => Math.abs(left + above - corner - one));
  if (a <= b && a <= c) return left;
  return b <= c ? above : corner;
}

/** The commonest colours, and for each colour its place among them. */
function placeColours(pixels) {
  const counts = new Map();
  for (const rgb of pixels) counts.set(rgb, (counts.get(rgb) ?? 0) + 1);
  const kept = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]).slice(0, 256);
  const colours = kept.map(([rgb]) => rgb);
  const of = new Map(colours.map((rgb, place) => [rgb, place]));
  for (const rgb of counts.keys()) {
    if (of.has(rgb)) continue;
    const far = colours.map((one) => distance(one, rgb));
    of.set(rgb, far.indexOf(Math.min(...far)));
  }
  return { kept: colours, of };
}

function distance(a, b) {
  return [16, 8, 0].reduce(
    (sum, shift) => sum + (((a >> shift) & 255) - ((b >> shift) & 255)) ** 2,
    0,
  );
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}
