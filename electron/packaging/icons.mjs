// @ts-check
import { spawnSync } from "node:child_process";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { chromium } from "playwright-core";
import { PROJECT_ROOT } from "../build.mjs";
import { ICNS_KINDS, ICO_SIZES, icns, ico } from "./icon-files.mjs";

/** Makes every icon file of the drawings in assets/icons; a browser without a window draws them. */

/** @typedef {import("./icon-files.mjs").Drawn} Drawn */

const FOLDER = path.join(PROJECT_ROOT, "assets", "icons");
/** Up to this size the drawing with fewer holes is used. */
const SMALL = 32;
/** Source: freedesktop.org, Icon Theme Specification: the sizes a theme has a folder for. */
const LINUX_SIZES = [16, 24, 32, 48, 64, 128, 256, 512];
const EVERY_SIZE = [...new Set([...LINUX_SIZES, ...ICO_SIZES, ...Object.values(ICNS_KINDS)])];

/**
 * @param {import("playwright-core").Page} page
 * @param {string} drawing name of an SVG file
 * @param {number} size in pixels
 * @returns {Promise<Drawn>}
 */
async function draw(page, drawing, size) {
  const svg = await readFile(path.join(FOLDER, drawing), "utf8");
  const { png, rgba } = await page.evaluate(
    async ({ source, pixels }) => {
      const picture = new Image(pixels, pixels);
      picture.src = `data:image/svg+xml,${encodeURIComponent(source)}`;
      await picture.decode();
      const canvas = Object.assign(document.createElement("canvas"), { width: pixels, height: pixels });
      const context = canvas.getContext("2d");
      if (context === null) throw new Error("nothing to draw on");
      context.drawImage(picture, 0, 0, pixels, pixels);
      return {
        png: canvas.toDataURL("image/png").split(",")[1] ?? "",
        rgba: [...context.getImageData(0, 0, pixels, pixels).data],
      };
    },
    { source: svg, pixels: size },
  );
  return { size, png: Buffer.from(png, "base64"), rgba: Uint8Array.from(rgba) };
}

/**
 * @param {import("playwright-core").Page} page
 * @param {string} large name of the drawing
 * @param {string} small name of the one for small sizes
 */
async function drawAll(page, large, small) {
  /** @type {Drawn[]} */
  const all = [];
  for (const size of EVERY_SIZE) all.push(await draw(page, size > SMALL ? large : small, size));
  return {
    all,
    /** @param {number} size @returns {Drawn} */
    of: (size) =>
      all.find((one) => one.size === size) ??
      (() => {
        throw new Error(`${size} was not drawn`);
      })(),
  };
}

const browserPath = spawnSync("which", ["chromium"], { encoding: "utf8" }).stdout.trim();
if (browserPath === "") throw new Error("chromium is not installed: it draws the icons");
const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
try {
  const page = await browser.newPage();
  const program = await drawAll(page, "reedpath.svg", "reedpath-small.svg");
  const file = await drawAll(page, "reedpath-file.svg", "reedpath-file.svg");
  await rm(path.join(FOLDER, "sizes"), { recursive: true, force: true });
  await mkdir(path.join(FOLDER, "sizes"));
  for (const size of LINUX_SIZES)
    await writeFile(path.join(FOLDER, "sizes", `${size}x${size}.png`), program.of(size).png);
  await writeFile(path.join(FOLDER, "reedpath.png"), program.of(1024).png);
  for (const [name, drawn] of [
    ["reedpath", program],
    ["reedpath-file", file],
  ]) {
    await writeFile(path.join(FOLDER, `${name}.ico`), ico(ICO_SIZES.map((size) => drawn.of(size))));
    await writeFile(path.join(FOLDER, `${name}.icns`), icns(drawn.all));
  }
  console.log(`${LINUX_SIZES.length + 5} files in assets/icons.`);
} finally {
  await browser.close();
}
