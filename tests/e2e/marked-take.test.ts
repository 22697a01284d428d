import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { readWav } from "../../core/listen/wav.ts";
import { exerciseOf } from "../support/drills.ts";
import { readCsv } from "../support/read-csv.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptAttempts, keptTake } from "./kept.ts";
import { rememberSounds, soundsSince } from "./sounded.ts";
import { microphoneTake } from "./takes.ts";

const exercise = exerciseOf();
const PATIENT = { timeout: 30_000 };
const browser = oneBrowserForAll();

/** A recording with mistakes on the sheet, marked and kept. */
async function openMarked() {
  const opened = await browser.open();
  const { page } = opened;
  await rememberSounds(page);
  await page.getByRole("button", { name: "Practise this" }).click();
  await page.getByLabel("Recording to mark").setInputFiles(microphoneTake(exercise, 11, true).wavPath);
  await page.getByText("Kept in the history.").waitFor(PATIENT);
  return opened;
}

async function keptMarks(page: Page) {
  const [entry] = await keptAttempts(page);
  if (entry === undefined) throw new Error("nothing was kept");
  return entry;
}

const trace = (page: Page) => page.getByRole("slider", { name: "Pitch and beat, note by note" });
const told = (page: Page) => trace(page).getAttribute("aria-valuetext");
const press = async (page: Page, ...keys: readonly string[]) => {
  for (const key of keys) await page.keyboard.press(key);
};

async function saved(page: Page, button: string): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([
    page.waitForEvent("download", PATIENT),
    page.getByRole("button", { name: button }).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

describe.skipIf(chromiumPath === null)(`a marked take in a real browser${whyNoBrowser}`, () => {
  test("is walked note by note, heard from any note, slowly and again, and saved", async () => {
    const { page, complaints, context } = await openMarked();
    const { attempt } = await keptMarks(page);
    await trace(page).focus();
    expect(await told(page)).toMatch(/^Note 1 of 15 · D5 · 6 blow · right/);
    await press(page, "ArrowRight", "ArrowRight", "ArrowRight");
    expect(await told(page)).toMatch(/^Note 4 of 15 · G5 · 7 blow · right, flat.* · 30\.\d cents flat · /);
    await press(page, "End");
    expect(await told(page)).toMatch(/^Note 15 of 15/);
    const wide = () => page.locator(".trace-whole").evaluate((whole) => whole.clientWidth);
    const before = await wide();
    await press(page, "+");
    // [calc] one step is half as wide again.
    expect(Math.abs((await wide()) / before - 1.5)).toBeLessThan(0.01);
    await press(page, "-", "Home", "ArrowRight", "ArrowRight");
    expect(await axeViolations(page)).toEqual([]);

    // From note 3 to the end, with the way into it.
    await press(page, "Enter");
    await expect.poll(() => page.locator(".heard-now").count(), PATIENT).toBe(1);
    const [whole] = await soundsSince(page);
    const third = attempt.marks[2]?.onSeconds ?? Number.NaN;
    const length = (whole?.samples.length ?? 0) / (whole?.sampleRateHz ?? 1);
    expect(attempt.take.durationSeconds - third - length).toBeGreaterThan(-0.1);
    expect(attempt.take.durationSeconds - third - length).toBeLessThan(0.02);

    // The note alone at half speed, again and again: twice as long, on the same pitch.
    await page.getByRole("button", { name: "Silence" }).click();
    await page.getByLabel("How far").selectOption("this note");
    await page.getByLabel("Half speed").check();
    await page.getByLabel("Again and again").check();
    await page.getByRole("button", { name: "Your take" }).click();
    const sounds = [...(await soundsSince(page))];
    await expect
      .poll(async () => sounds.push(...(await soundsSince(page))), PATIENT)
      .toBeGreaterThanOrEqual(2);
    await page.getByRole("button", { name: "Silence" }).click();
    const [slow, again] = sounds;
    if (slow === undefined || again === undefined) throw new Error("it was not heard twice");
    expect(again.samples.length).toBe(slow.samples.length);
    const [heard] = listenToTake(slow.samples, slow.sampleRateHz).notes.filter(
      (note) => note.offSeconds - note.onSeconds > 0.3,
    );
    const mark = attempt.marks[2];
    const lasted = (mark?.offSeconds ?? 0) - (mark?.onSeconds ?? 0);
    // [calc] twice the note, within the 20 ms either end may lie off and the softened attack.
    expect(Math.abs((heard?.offSeconds ?? 0) - (heard?.onSeconds ?? 0) - 2 * lasted)).toBeLessThan(0.1);
    // 1 cent: half of what the best ears notice. F#5 of a G harp, equal: MIDI 78.
    expect(Math.abs(100 * ((heard?.pitchMidi ?? 0) - 78) - (mark?.cents ?? 0))).toBeLessThan(1);

    // Both in turn: the take is heard after the reference, which is played note by note and not as a recording.
    await page.getByLabel("Half speed").uncheck();
    await page.getByLabel("Again and again").uncheck();
    await soundsSince(page);
    await page.getByRole("button", { name: "Both in turn" }).click();
    await expect.poll(async () => (await soundsSince(page)).length, PATIENT).toBe(1);

    const wav = await saved(page, "Save the take (WAV)");
    expect(wav.name).toMatch(/^D-mixolydian-scale[\w-]*\.wav$/);
    const read = readWav(wav.bytes);
    const kept = await keptTake(page);
    if (read.kind === "unreadable") throw new Error(read.reason);
    expect([read.sampleRateHz, read.encoding, read.bitsPerSample]).toEqual([kept.sampleRateHz, "float", 32]);
    expect(Buffer.compare(Buffer.from(read.samples.buffer), Buffer.from(kept.samples.buffer))).toBe(0);
    const json = await saved(page, "Save the marks (JSON)");
    expect(JSON.parse(json.bytes.toString("utf8"))).toEqual(JSON.parse(JSON.stringify(attempt)));
    const csv = await saved(page, "Save the marks (CSV)");
    const rows = readCsv(csv.bytes.toString("utf8"));
    expect(rows).toHaveLength(1 + 15 + attempt.extras.length);
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.getByRole("button", { name: "Copy the marks" }).click();
    await page.getByText("The marks are on the clipboard.").waitFor(PATIENT);
    const pasted = await page.evaluate(() => navigator.clipboard.readText());
    expect(
      pasted
        .replace(/\n$/, "")
        .split("\n")
        .map((line) => line.split("\t")),
    ).toEqual(rows);
    expect(complaints).toEqual([]);
  });

  test("is marked again by other settings, replaced only on request, given back, and traced anew when opened", async () => {
    const { page, complaints } = await openMarked();
    const first = await keptMarks(page);
    await page.getByText("Mark again with other settings").click();
    await page.getByLabel("The harp's A").fill("444");
    await page.getByLabel("Delay of the sound").fill("20");
    await page.getByRole("button", { name: "Mark again", exact: true }).click();
    await page
      .getByText("Marked again: A 444 Hz instead of 440, delay 20 ms instead of 0. The history still has")
      .waitFor(PATIENT);
    await trace(page).focus();
    // [calc] 1200 log2(444/440) = 15.7 cents.
    expect(await told(page)).toMatch(/1[56]\.\d cents flat/);
    expect(await axeViolations(page)).toEqual([]);
    expect(await keptMarks(page)).toEqual(first);
    await page.getByRole("button", { name: "Keep these instead" }).click();
    await page.getByText("The history has these marks now.").waitFor(PATIENT);
    const second = await keptMarks(page);
    expect([second.id, second.exercise.harp.a4, second.attempt.latencyMs]).toEqual([first.id, 444, 20]);
    expect(second.takeSamples).toBe(first.takeSamples);

    // Opened from the history: the trace is drawn from the kept take.
    await page.getByRole("button", { name: "Progress" }).click();
    await page.getByRole("button", { name: "Attempts", exact: true }).click();
    await page.getByRole("button", { name: exercise.title, exact: true }).click();
    await trace(page).waitFor(PATIENT);
    expect(await told(page)).toMatch(/^Note 1 of 15 .* 1[56]\.\d cents flat/);
    await page.getByText("Mark again with other settings").click();
    await page.getByLabel("The harp's A").fill("440");
    await page.getByLabel("Delay of the sound").fill("0");
    await page.getByRole("button", { name: "Mark again", exact: true }).click();
    await page.getByRole("button", { name: "Keep these instead" }).click(PATIENT);
    await page.getByText("The history has these marks now.").waitFor(PATIENT);
    expect((await keptMarks(page)).attempt).toEqual(first.attempt);
    await page.getByRole("button", { name: "Back to the earlier marks" }).click();
    await page.getByText("Marked again:").waitFor({ state: "detached", ...PATIENT });
    expect((await keptMarks(page)).attempt).toEqual(second.attempt);
    expect(complaints).toEqual([]);
  });
});
