import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { thirtyDays } from "../support/thirty-days.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keepEntries } from "./kept.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

const part = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const figure = (page: Page, name: RegExp) => page.getByRole("img", { name });

/** Clicks, and gives back the file that comes of it. */
async function saved(page: Page, button: string): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: button }).first().click();
  const file = await download;
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
}

/** Size and number of different colours of a picture, as a browser decodes it. */
async function decoded(page: Page, type: string, bytes: Buffer) {
  return page.evaluate(
    async ([kind, base64]) => {
      const image = new Image();
      image.src = `data:${kind};base64,${base64}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.naturalWidth, image.naturalHeight];
      const context = canvas.getContext("2d");
      if (context === null) throw new Error("no canvas");
      context.drawImage(image, 0, 0);
      const pixels = context.getImageData(0, 0, canvas.width, canvas.height).data;
      const colours = new Set(new Uint32Array(pixels.buffer));
      return { width: canvas.width, height: canvas.height, colours: colours.size };
    },
    [type, bytes.toString("base64")] as const,
  );
}

function firstElement(xml: string): Readonly<Record<string, string>> {
  let found: Readonly<Record<string, string>> | null = null;
  const parser = new SaxesParser();
  parser.on("opentag", ({ name, attributes }) => {
    found ??= { ...(attributes as Record<string, string>), name };
  });
  parser.on("error", (error) => {
    throw error;
  });
  parser.write(xml).close();
  if (found === null) throw new Error("the file holds no element");
  return found;
}

describe.skipIf(chromiumPath === null)(`the progress of thirty days${whyNoBrowser}`, () => {
  test.each(["light", "dark"] as const)(
    "is told, drawn, counted and found again; axe finds nothing, %s",
    async (colorScheme) => {
      const { page, complaints } = await open({ colorScheme });
      await keepEntries(page, thirtyDays(5));
      await enterRoom(page, ROOM_KEYS.progress);
      // The player of these days scatters less and less.
      await page.getByRole("radio", { name: /^Intonation spread .*better/ }).check(PATIENT);
      await figure(page, /^Intonation spread: /).waitFor(PATIENT);
      for (const fold of await page.locator(".progress details").all())
        await fold.locator("summary").first().click();
      // [calc] two takes on each of 26 days: a row a day, and the head.
      expect(await page.getByRole("row").count()).toBe(26 + 1);
      expect(await axeViolations(page), "trends").toEqual([]);
      await part(page, "Weak spots").click();
      await figure(page, /^Intonation of each reed action: /).waitFor(PATIENT);
      await figure(page, /^From one note to the next: /).waitFor(PATIENT);
      expect(await axeViolations(page), "weak spots").toEqual([]);
      await part(page, "Calendar").click();
      // [calc] two takes of a minute a day.
      await page.getByText("52 min on 26 days").first().waitFor(PATIENT);
      await page.getByText("The numbers as a table").click();
      expect(await page.getByRole("cell", { name: "2 min", exact: true }).count()).toBe(26);
      expect(await axeViolations(page), "calendar").toEqual([]);
      await part(page, "Attempts").click();
      await page.getByText("52 attempts", { exact: true }).waitFor(PATIENT); // [calc] two a day
      await page.getByLabel("To", { exact: true }).fill("2026-09-01");
      await page.getByText("2 attempts", { exact: true }).waitFor(PATIENT);
      expect(await axeViolations(page), "attempts").toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  test("every picture is saved as SVG and as PNG of twice its size, on light paper, named by what and when", async () => {
    const { page, complaints } = await open({ colorScheme: "dark" });
    await keepEntries(page, thirtyDays(5));
    await enterRoom(page, ROOM_KEYS.progress);
    const pictures = [
      ["Trends", /^[A-Z].*: .* scale/, /^[\w-]+-2026-08-06-to-2026-09-30\./],
      [
        "Weak spots",
        /^Intonation of each/,
        /^Intonation-of-each-reed-action-G-harp-2026-08-06-to-2026-09-30\./,
      ],
      // [calc] six weeks up to that of Wednesday the 30th of September: Monday, 24 August, to Sunday, 4 October.
      ["Calendar", /^Minutes/, /^Minutes-of-each-day-2026-08-24-to-2026-10-04\./],
    ] as const;
    for (const [name, title, fileName] of pictures) {
      await part(page, name).click();
      await figure(page, title).waitFor(PATIENT);
      const svg = await saved(page, "Save picture as SVG");
      expect(svg.name).toMatch(fileName);
      const root = firstElement(svg.bytes.toString("utf8"));
      expect(root).toMatchObject({ name: "svg", xmlns: "http://www.w3.org/2000/svg" });
      const [width, height] = [Number(root.width), Number(root.height)];
      const drawn = await decoded(page, "image/svg+xml", svg.bytes);
      expect(drawn).toMatchObject({ width, height });
      const png = await saved(page, "Save picture as PNG");
      expect(png.name).toMatch(fileName);
      const raster = await decoded(page, "image/png", png.bytes);
      expect(raster).toMatchObject({ width: 2 * width, height: 2 * height });
      // Not blank: paper, ink, tints, and what lies between where they meet.
      expect(raster.colours).toBeGreaterThan(20);
      // Light paper even from a dark screen: #fbfaf6 in base.css.
      expect(svg.bytes.toString("utf8")).toContain('fill="#fbfaf6"');
      await page.getByText(/^Saved as .*\.png\.$/).waitFor();
    }
    expect(complaints).toEqual([]);
  });

  test("by keyboard alone: another measure, another kind, and the drill for what costs most", async () => {
    const { page } = await open();
    await keepEntries(page, thirtyDays(5));
    await enterRoom(page, ROOM_KEYS.progress);
    await page.getByRole("radio").first().waitFor(PATIENT);
    await page.getByRole("radio", { checked: true }).focus();
    const before = await page.locator(".proof h2").textContent();
    await page.keyboard.press("ArrowDown");
    expect(await page.locator(".proof h2").textContent()).not.toBe(before);
    await page.getByLabel("Compare").focus();
    await page.keyboard.press("End");
    await figure(page, /: Everything practised$/).waitFor(PATIENT);
    await part(page, "Weak spots").focus();
    await page.keyboard.press("Enter");
    await page.locator(".spots button").first().waitFor(PATIENT);
    // From the parts on by Tab: harp and days first, then the list.
    for (let n = 0; n < 12; n++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate(() => document.activeElement?.matches(".spots button"))) break;
    }
    await page.keyboard.press("Enter");
    await page.locator(".practice .staff svg").first().waitFor(PATIENT);
  });

  test.each([
    { viewport: { width: 1024, height: 700 }, text: "100 %" },
    { viewport: { width: 1280, height: 800 }, text: "200 %" },
  ])("nothing is cut at $viewport.width x $viewport.height and text of $text", async ({ viewport, text }) => {
    const { page } = await open({ viewport, roomKey: ROOM_KEYS.settings });
    await page.getByLabel(text).check();
    await keepEntries(page, thirtyDays(5));
    await enterRoom(page, ROOM_KEYS.progress);
    for (const name of ["Trends", "Weak spots", "Calendar"]) {
      await part(page, name).click();
      await page.locator(".drawn").first().waitFor(PATIENT);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), name).toBe(viewport.width);
      const cut = await page.evaluate(
        () =>
          [...document.querySelectorAll<HTMLElement>(".frame")].filter(
            (frame) =>
              frame.scrollWidth > frame.clientWidth && frame.tabIndex < 0 && frame.querySelector("svg"),
          ).length,
      );
      expect(cut, `${name}: what is wider than its frame can be reached by keyboard`).toBe(0);
    }
  });

  test("with nothing played it says what will be here", async () => {
    const { page, complaints } = await open();
    await enterRoom(page, ROOM_KEYS.progress);
    await page.getByText(/^Nothing here yet\. Once something was played on two days/).waitFor();
    await page.getByText("How this is told").click();
    await page.getByText("Like with like").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
