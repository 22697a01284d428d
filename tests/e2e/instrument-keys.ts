import type { Locator, Page } from "playwright-core";
import { type Breath, type Layout, reedAt } from "../../core/instrument/layout.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";

export const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
export const reed = (page: Page, breath: Breath, hole: number) =>
  page.locator(`[data-row="${breath}-plain-0"][data-hole="${hole}"]`);

/** Goes to a control by Tab alone, forwards, round the page if need be. */
export async function tabTo(page: Page, control: Locator): Promise<void> {
  await control.waitFor();
  for (let presses = 0; presses < 120; presses++) {
    if (await control.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab does not reach ${control}`);
}

async function pressTimes(page: Page, key: string, times: number): Promise<void> {
  for (let n = 0; n < times; n++) await page.keyboard.press(key);
}

export async function enterInstrument(page: Page): Promise<void> {
  await tabTo(page, button(page, "Instrument"));
  await page.keyboard.press("Enter");
  await reed(page, "blow", 1).waitFor();
}

/** Every reed of one breath, from hole 1 to the last, moved by up and down. */
async function setRow(page: Page, breath: Breath, target: Layout): Promise<void> {
  for (let hole = 1; hole <= target.holes.length; hole++) {
    const wanted = reedAt(target, hole, breath) ?? 0;
    // What the new holes begin with is the editor's business: the reed says how far it has to go.
    const from = await soundsOf(page, breath, hole);
    await pressTimes(page, wanted > from ? "ArrowUp" : "ArrowDown", Math.abs(wanted - from));
    await page.keyboard.press("ArrowRight");
  }
  await pressTimes(page, "ArrowLeft", target.holes.length);
}

const LETTERS = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];
const FLATS = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"];

/** Semitones above the key note, G3 (55), as the picture names the note. */
export async function soundsOf(page: Page, breath: Breath, hole: number): Promise<number> {
  const name = (await reed(page, breath, hole).locator(".note").textContent()) ?? "";
  const [, letter = "", octave = ""] = /^([A-G][#b]?)(-?\d)$/.exec(name) ?? [];
  const step = Math.max(LETTERS.indexOf(letter), FLATS.indexOf(letter));
  return 12 * (Number(octave) + 1) + step - 55;
}

/** Makes a layout from the standard one in the editor, by keyboard alone, and saves it. */
export async function rebuild(page: Page, target: Layout, name: string): Promise<void> {
  await tabTo(page, button(page, "Change this layout"));
  await page.keyboard.press("Enter");
  // The name is selected: typing replaces it.
  await page.keyboard.type(name);
  if (target.holes.length !== STANDARD_LAYOUT.holes.length) {
    await tabTo(page, page.getByLabel(/^Holes/));
    await page.keyboard.press("Control+A");
    await page.keyboard.type(String(target.holes.length));
  }
  if (target.labelKey !== undefined) {
    await tabTo(page, page.getByLabel("Labelled"));
    await pressTimes(page, "ArrowDown", target.labelKey);
  }
  await tabTo(page, reed(page, "blow", 1));
  await setRow(page, "blow", target);
  await page.keyboard.press("Tab");
  await setRow(page, "draw", target);
  await tabTo(page, button(page, "Save to my layouts"));
  await page.keyboard.press("Enter");
  await button(page, "Change this layout").waitFor();
}
