// @ts-check

/**
 * One drawing at one size.
 * @typedef {{ readonly size: number, readonly png: Uint8Array, readonly rgba: Uint8Array }} Drawn
 */

/** Sizes of Windows' icons, from the title bar at 100 % to the desktop; common practice. */
export const ICO_SIZES = [16, 20, 24, 32, 40, 48, 64, 128, 256];

/**
 * Kinds of pictures in a macOS icon that hold PNG, by size in pixels; those that stand for twice as many points come second.
 * Source: from memory, as iconutil writes them: ic07 to ic14.
 * @type {Readonly<Record<string, number>>}
 */
export const ICNS_KINDS = {
  ic07: 128,
  ic08: 256,
  ic09: 512,
  ic10: 1024,
  ic11: 32,
  ic12: 64,
  ic13: 256,
  ic14: 512,
};

/** Beyond this size Windows wants a PNG, up to it every reader knows bitmaps. */
const LARGEST_BITMAP = 128;

/**
 * A Windows icon of several sizes.
 * Source: Microsoft, "Icons" (1995): ICONDIR, ICONDIRENTRY, and a bitmap without file header, its height doubled for the mask.
 * @param {readonly Drawn[]} all
 * @returns {Buffer}
 */
export function ico(all) {
  const pictures = all.map((one) => (one.size > LARGEST_BITMAP ? Buffer.from(one.png) : bitmap(one)));
  const head = Buffer.alloc(6 + 16 * all.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(all.length, 4);
  let at = head.length;
  for (const [n, { size }] of all.entries()) {
    const entry = 6 + 16 * n;
    const bytes = pictures[n]?.length ?? 0;
    // 256 is written as 0.
    head.writeUInt8(size % 256, entry);
    head.writeUInt8(size % 256, entry + 1);
    head.writeUInt16LE(1, entry + 4);
    head.writeUInt16LE(32, entry + 6);
    head.writeUInt32LE(bytes, entry + 8);
    head.writeUInt32LE(at, entry + 12);
    at += bytes;
  }
  return Buffer.concat([head, ...pictures]);
}

/**
 * Lines from the bottom up, blue first; then a mask of one bit a pixel, which is left empty as the pixels have their own.
 * @param {Drawn} drawn
 */
function bitmap({ size, rgba }) {
  const head = Buffer.alloc(40);
  head.writeUInt32LE(40, 0);
  head.writeInt32LE(size, 4);
  head.writeInt32LE(2 * size, 8);
  head.writeUInt16LE(1, 12);
  head.writeUInt16LE(32, 14);
  const pixels = Buffer.alloc(4 * size * size);
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      const from = 4 * (y * size + x);
      const to = 4 * ((size - 1 - y) * size + x);
      const [red = 0, green = 0, blue = 0, alpha = 0] = rgba.subarray(from, from + 4);
      pixels.set([blue, green, red, alpha], to);
    }
  const mask = Buffer.alloc(4 * Math.ceil(size / 32) * size);
  return Buffer.concat([head, pixels, mask]);
}

/**
 * A macOS icon: each picture with its kind and length before it, all in one.
 * @param {readonly Drawn[]} all one of each size in ICNS_KINDS
 * @returns {Buffer}
 * @throws {Error} where a size is missing
 */
export function icns(all) {
  const parts = Object.entries(ICNS_KINDS).map(([kind, size]) => {
    const drawn = all.find((one) => one.size === size);
    if (drawn === undefined) throw new Error(`the icon has no picture of ${size} pixels`);
    return block(kind, Buffer.from(drawn.png));
  });
  return block("icns", Buffer.concat(parts));
}

/** @param {string} kind @param {Buffer} content */
function block(kind, content) {
  const head = Buffer.alloc(8);
  head.write(kind, "latin1");
  head.writeUInt32BE(8 + content.length, 4);
  return Buffer.concat([head, content]);
}
