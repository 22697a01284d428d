import type { Locator, Page } from "playwright-core";
import { type Breath, type Layout, reedAt } from "../../core/instrument/layout.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { midiOfName } from "../../core/pitch/note-names.ts";

export const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
export const reed = (page: Page, breath: Breath, hole: number) =>
  page.locator(`[data-row="${breath}-plain-0"][data-hole="${hole}"]`);

/** Goes to a control by Tab alone, the way the page says is shorter, round it if need be. */
export async function tabTo(page: Page, control: Locator): Promise<void> {
  await control.waitFor();
  const isBefore = await control.evaluate(liesBefore);
  const key = isBefore ? "Shift+Tab" : "Tab";
  await pressOnEnd(page, isBefore, await control.evaluate(stopsBetween));
  for (let presses = 0; presses < 120; presses++) {
    if (await control.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press(key);
  }
  throw new Error(`${key} does not reach ${control}`);
}

/** In the page: whether what has the keys stands after the control. */
function liesBefore(control: Element): boolean {
  const { activeElement } = document;
  if (activeElement === null || activeElement === document.body) return false;
  return (control.compareDocumentPosition(activeElement) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
}

/** In the page: at least so many controls lie between what has the keys and the control; groups of radios and rows of reeds are not counted. */
function stopsBetween(control: Element): number {
  const { activeElement } = document;
  if (activeElement === null || activeElement === document.body) return 0;
  const sure = "button:not([tabindex]), select, summary, input:not([type=radio], [tabindex])";
  return [...document.querySelectorAll<HTMLElement & { disabled?: boolean }>(sure)].filter((one) => {
    if (one === control || one === activeElement || one.disabled === true || !one.checkVisibility())
      return false;
    const follows = (a: Node, b: Node) =>
      (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0;
    return follows(activeElement, one) === follows(one, control);
  }).length;
}

/** Presses Tab so many times without waiting for the page in between. */
async function pressOnEnd(page: Page, shift: boolean, times: number): Promise<void> {
  if (times === 0) return;
  const client = await page.context().newCDPSession(page);
  const tab = { key: "Tab", code: "Tab", windowsVirtualKeyCode: 9, modifiers: shift ? 8 : 0 } as const;
  const keys = Array.from({ length: times }, () => [
    client.send("Input.dispatchKeyEvent", { type: "rawKeyDown", ...tab }),
    client.send("Input.dispatchKeyEvent", { type: "keyUp", ...tab }),
  ]);
  await Promise.all(keys.flat());
  await client.detach();
}

async function pressTimes(page: Page, key: string, times: number): Promise<void> {
  for (let n = 0; n < times; n++) await page.keyboard.press(key);
}

export async function enterInstrument(page: Page): Promise<void> {
  await tabTo(page, button(page, "Instrument"));
  await page.keyboard.press("Enter");
  await reed(page, "blow", 1).waitFor();
}

/** Chooses from a list by typing the beginning of what is wanted. */
export async function chooseByTyping(page: Page, list: string, words: string): Promise<void> {
  await tabTo(page, page.getByLabel(list, { exact: true }));
  await page.keyboard.type(words);
}

/** The twelve notes, for the letter to press. */
const SHARPS = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];

/** The pitch a reed of the picture shows as MIDI number; null for "–", no reed. */
export async function pitchShown(page: Page, breath: Breath, hole: number): Promise<number | null> {
  const name = (await reed(page, breath, hole).locator(".note").textContent()) ?? "";
  return midiOfName(name);
}

/** From here a letter, or a letter and an octave, takes fewer keys than semitones. */
const MANY_SEMITONES = 3;

/** Sets the reed that has the keys as a player would: a letter for what lies far off, the page keys, then semitones. */
async function setReed(page: Page, breath: Breath, hole: number, wanted: number): Promise<void> {
  const away = async () => wanted - ((await pitchShown(page, breath, hole)) ?? Number.NaN);
  if (Math.abs(await away()) >= MANY_SEMITONES) {
    await page.keyboard.press((SHARPS[wanted % 12] ?? "").charAt(0).toLowerCase());
    const octaves = Math.round((await away()) / 12);
    await pressTimes(page, octaves > 0 ? "PageUp" : "PageDown", Math.abs(octaves));
  }
  const semitones = await away();
  await pressTimes(page, semitones > 0 ? "ArrowUp" : "ArrowDown", Math.abs(semitones));
}

/** Every reed of one breath, from hole 1 to the last, on a harp whose key note is `keyNote`. */
async function setRow(page: Page, breath: Breath, target: Layout, keyNote: number): Promise<void> {
  for (let hole = 1; hole <= target.holes.length; hole++) {
    const wanted = reedAt(target, hole, breath);
    if (wanted === null) await page.keyboard.press("Delete");
    else await setReed(page, breath, hole, keyNote + wanted);
    if (target.holes[hole - 1]?.valved?.includes(breath)) await page.keyboard.press("v");
    await page.keyboard.press("ArrowRight");
  }
  await pressTimes(page, "ArrowLeft", target.holes.length);
}

async function chooseNote(page: Page, list: string, above: number | undefined): Promise<void> {
  if (above === undefined) return;
  await tabTo(page, page.getByLabel(list));
  await pressTimes(page, "ArrowDown", above);
}

/** Makes a layout from the standard one in the editor, by keyboard alone, on a C harp (key note 60), and saves it. */
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
  await chooseNote(page, "Positions count from", target.positionKey);
  await chooseNote(page, "Labelled", target.labelKey);
  await tabTo(page, reed(page, "blow", 1));
  await setRow(page, "blow", target, 60);
  await page.keyboard.press("Tab");
  await setRow(page, "draw", target, 60);
  await tabTo(page, button(page, "Save to my layouts"));
  await page.keyboard.press("Enter");
  await button(page, "Change this layout").waitFor();
}
