import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { exerciseOf } from "../support/drills.ts";
import { chromiumPath, type WatchedPage, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

/** What a new visitor finds chosen: D mixolydian, second position on a G harp, crotchet = 90. */
const exercise = exerciseOf();

const browser = oneBrowserForAll();

async function open(): Promise<WatchedPage> {
  const opened = await browser.open();
  await opened.page.getByRole("button", { name: "Practise this" }).waitFor();
  return opened;
}

const verdicts = (attempt: Attempt) => attempt.marks.map((mark) => mark.verdict);
const kept = (page: Page) => page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });

describe.skipIf(chromiumPath === null)(`the sheet without a microphone${whyNoBrowser}`, () => {
  test("a recording opened instead of the microphone is marked and kept", async () => {
    const take = microphoneTake(exercise, 31, true);
    const { page, complaints } = await open();
    await page.keyboard.press("Enter");
    await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
    await kept(page);
    const [entry] = await keptAttempts(page);
    const onFile = scoreTake(
      exercise,
      listenToTake(take.samples, take.sampleRateHz, undefined, knownReeds(exercise.harp)),
    );
    expect(entry === undefined ? [] : verdicts(entry.attempt)).toEqual(verdicts(onFile));
    expect(complaints).toEqual([]);
  });

  test("a recording dropped on the sheet is marked too", async () => {
    const take = microphoneTake(exercise, 32, false);
    const { page } = await open();
    await page.keyboard.press("Enter");
    const bytes = [...writeWav(take.samples, take.sampleRateHz, "pcm16")];
    const transfer = await page.evaluateHandle((content) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(content)], "evening.wav"));
      return data;
    }, bytes);
    await page.locator("main").dispatchEvent("drop", { dataTransfer: transfer });
    await page.getByText("Clean: all 15 notes right.").waitFor();
  });

  test.each([
    ["notes.wav", "I am a text file", /notes\.wav cannot be marked: .*not a WAV/i],
    ["silence.wav", null, /silence\.wav cannot be marked: it holds only silence/],
    ["picture.png", "no sound in here", /picture\.png cannot be marked: it is not sound/],
  ])("%s is refused in one sentence and nothing is kept", async (name, text, words) => {
    const { page } = await open();
    await page.keyboard.press("Enter");
    const buffer =
      text === null ? Buffer.from(writeWav(new Float32Array(48_000), 48_000, "pcm16")) : Buffer.from(text);
    await page.getByLabel("Recording to mark").setInputFiles({ name, mimeType: "audio/wav", buffer });
    await page.getByText(words).waitFor();
    expect(await keptAttempts(page)).toEqual([]);
  });

  test("the simulated player shows its mistakes, says what it is, and is never kept", async () => {
    const { page, complaints } = await open();
    await page.keyboard.press("Enter");
    await page.keyboard.press("s");
    await page.getByText(/^Simulated player, not you\. 13 of 15 notes right/).waitFor();
    await page.getByText("Not in the history: simulated takes are not kept.").waitFor();
    expect(await keptAttempts(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("arrows change the tempo and Escape leads back to the drills", async () => {
    const { page } = await open();
    await page.keyboard.press("Enter");
    await page.getByText("♩ = 90").waitFor();
    await page.keyboard.press("ArrowUp");
    await page.getByText("♩ = 95").waitFor();
    await page.keyboard.press("Escape");
    await page.getByLabel(/Tempo/).waitFor();
    expect(await page.getByLabel(/Tempo/).inputValue()).toBe("95");
  });

  test("a deleted attempt can be brought back", async () => {
    const take = microphoneTake(exercise, 51, false);
    const { page } = await open();
    await page.keyboard.press("Enter");
    await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
    await kept(page);
    await page.getByRole("button", { name: "Progress" }).click();
    await page.getByRole("button", { name: "Attempts", exact: true }).click();
    await page.getByRole("button", { name: /^Delete/ }).click();
    await page.getByText("Nothing here yet.").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByRole("button", { name: exercise.title, exact: true }).waitFor();
  });
});
