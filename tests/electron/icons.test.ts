import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { PROJECT_ROOT } from "../../electron/build.mjs";
import { ICNS_KINDS, ICO_SIZES } from "../../electron/packaging/icon-files.mjs";
import { chromiumPath, launchBrowser, whyNoBrowser } from "../e2e/browser.ts";

const FOLDER = path.join(PROJECT_ROOT, "assets", "icons");
const read = (name: string) => readFileSync(path.join(FOLDER, name));

/** [F] PNG (W3C), 5.2 and 11.2.1: eight bytes of signature, then IHDR with width and height; colour type 6 has alpha. */
function pngSize(bytes: Buffer): number {
  expect(bytes.subarray(0, 8).toString("latin1")).toBe("\x89PNG\r\n\x1a\n");
  expect(bytes.toString("latin1", 12, 16)).toBe("IHDR");
  expect(bytes.readUInt8(25)).toBe(6);
  expect(bytes.readUInt32BE(20)).toBe(bytes.readUInt32BE(16));
  return bytes.readUInt32BE(16);
}

interface Picture {
  readonly size: number;
  readonly png: Buffer | null;
  readonly bytes: Buffer;
}

/** [F] Microsoft, "Icons" (1995): ICONDIR, then 16 bytes a picture with its size, bits a pixel, length and place. */
function picturesOfIco(bytes: Buffer): readonly Picture[] {
  expect([bytes.readUInt16LE(0), bytes.readUInt16LE(2)]).toEqual([0, 1]);
  return Array.from({ length: bytes.readUInt16LE(4) }, (_, n) => {
    const entry = 6 + 16 * n;
    const size = bytes.readUInt8(entry) || 256;
    expect([bytes.readUInt8(entry + 1) || 256, bytes.readUInt16LE(entry + 6)]).toEqual([size, 32]);
    const from = bytes.readUInt32LE(entry + 12);
    const picture = bytes.subarray(from, from + bytes.readUInt32LE(entry + 8));
    const isPng = picture.readUInt32BE(0) === 0x89504e47;
    return { size, png: isPng ? picture : null, bytes: picture };
  });
}

/** [M] the icns format: kind and length, big-endian and counting itself, before the whole and before each picture. */
function picturesOfIcns(bytes: Buffer): ReadonlyMap<string, Buffer> {
  expect([bytes.toString("latin1", 0, 4), bytes.readUInt32BE(4)]).toEqual(["icns", bytes.length]);
  const found = new Map<string, Buffer>();
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at + 4);
    found.set(bytes.toString("latin1", at, at + 4), bytes.subarray(at + 8, at + length));
    at += length;
  }
  return found;
}

describe("the icons", () => {
  test("of Linux are there in every size a theme has a folder for, each as large as its name says", () => {
    const names = readdirSync(path.join(FOLDER, "sizes"));
    // [F] freedesktop.org, Icon Theme Specification, directories of the theme "hicolor".
    const sizes = [16, 24, 32, 48, 64, 128, 256, 512];
    expect(names.sort()).toEqual(sizes.map((size) => `${size}x${size}.png`).sort());
    for (const size of sizes) expect(pngSize(read(`sizes/${size}x${size}.png`))).toBe(size);
    expect(pngSize(read("reedpath.png"))).toBe(1024);
  });

  test.each(["reedpath.ico", "reedpath-file.ico"])(
    "%s has every size of Windows, the largest as PNG",
    (name) => {
      const pictures = picturesOfIco(read(name));
      expect(pictures.map(({ size }) => size)).toEqual(ICO_SIZES);
      for (const { size, png, bytes } of pictures) {
        if (png !== null) expect([size, pngSize(png)]).toEqual([256, 256]);
        else {
          // [F] BITMAPINFOHEADER: 40 bytes, width, twice the height as the mask counts too, 32 bits.
          expect([
            bytes.readUInt32LE(0),
            bytes.readInt32LE(4),
            bytes.readInt32LE(8),
            bytes.readUInt16LE(14),
          ]).toEqual([40, size, 2 * size, 32]);
          // [calc] four bytes a pixel, and a mask of one bit a pixel in lines of whole 32 bits.
          expect(bytes.length).toBe(40 + 4 * size * size + 4 * Math.ceil(size / 32) * size);
        }
      }
    },
  );

  test.each(["reedpath.icns", "reedpath-file.icns"])("%s has every kind of macOS in its size", (name) => {
    const pictures = picturesOfIcns(read(name));
    expect([...pictures.keys()]).toEqual(Object.keys(ICNS_KINDS));
    for (const [kind, png] of pictures) expect(pngSize(png), kind).toBe(ICNS_KINDS[kind]);
  });

  test("are drawn alone: no drawing names a font, a script or another file", () => {
    for (const name of readdirSync(FOLDER).filter((one) => one.endsWith(".svg")))
      expect(read(name).toString(), name).not.toMatch(/<(text|script|image|use|style)|href|url\(|@import/);
  });
});

describe.skipIf(chromiumPath === null)(`the icons beside their drawings${whyNoBrowser}`, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  /** Largest difference of any channel of any pixel between a PNG and a drawing at its size. */
  async function difference(png: Buffer, svg: Buffer, size: number): Promise<number> {
    const page = await browser.newPage();
    const found = await page.evaluate(
      async ([first, second, pixels]) => {
        const drawn = async (source: string) => {
          const picture = Object.assign(new Image(), { src: source });
          await picture.decode();
          const context = new OffscreenCanvas(pixels, pixels).getContext("2d");
          context?.drawImage(picture, 0, 0, pixels, pixels);
          return context?.getImageData(0, 0, pixels, pixels).data ?? new Uint8ClampedArray();
        };
        const [one, other] = [await drawn(first), await drawn(second)];
        return one.reduce(
          (most, value, n) => Math.max(most, Math.abs(value - (other[n] ?? 0))),
          one.length > 0 ? 0 : 255,
        );
      },
      [
        `data:image/png;base64,${png.toString("base64")}`,
        `data:image/svg+xml;base64,${svg.toString("base64")}`,
        size,
      ] as const,
    );
    await page.close();
    return found;
  }

  test.each([
    ["sizes/512x512.png", "reedpath.svg", 512],
    ["sizes/48x48.png", "reedpath.svg", 48],
    ["sizes/32x32.png", "reedpath-small.svg", 32],
    ["sizes/16x16.png", "reedpath-small.svg", 16],
  ] as const)("%s is %s", async (file, drawing, size) => {
    // Two browsers may round an edge otherwise; another drawing differs by whole colours.
    expect(await difference(read(file), read(drawing), size)).toBeLessThanOrEqual(24);
  });

  test("those inside the files of Windows and macOS are the drawings too, and another drawing would be noticed", async () => {
    const inIco = picturesOfIco(read("reedpath-file.ico")).find(({ size }) => size === 256)?.png;
    const inIcns = picturesOfIcns(read("reedpath.icns")).get("ic13");
    if (inIco == null || inIcns === undefined) throw new Error("no picture of 256 pixels");
    expect(await difference(inIco, read("reedpath-file.svg"), 256)).toBeLessThanOrEqual(24);
    expect(await difference(inIcns, read("reedpath.svg"), 256)).toBeLessThanOrEqual(24);
    expect(await difference(inIcns, read("reedpath-file.svg"), 256)).toBeGreaterThan(100);
  });
});
