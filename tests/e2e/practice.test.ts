import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { exerciseOf } from "../support/drills.ts";
import {
  axeViolations,
  type BrowserOptions,
  chromiumPath,
  enterRoom,
  ROOM_KEYS,
  type WatchedPage,
  whyNoBrowser,
} from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

/** What a new visitor finds chosen: D mixolydian, second position on a G harp, crotchet = 90. */
const exercise = exerciseOf();

const browser = oneBrowserEach();

async function open(options: BrowserOptions = {}): Promise<WatchedPage> {
  const opened = await browser.open(options);
  await opened.page.getByRole("button", { name: "Practise this" }).waitFor();
  return opened;
}

const verdicts = (attempt: Attempt) => attempt.marks.map((mark) => mark.verdict);
const kept = (page: Page) => page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });

describe.skipIf(chromiumPath === null)(`practising in a real browser${whyNoBrowser}`, () => {
  test("a new player goes from drill to marks to history by keyboard alone, with nothing amiss on the way", async () => {
    const take = microphoneTake(exercise, 11, true);
    const { page, complaints } = await open({ wavPath: take.wavPath });
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: /Start/ }).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Space");
    await page.getByText("count-in, then hole 6, breath out").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await kept(page);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByText("Every note").focus();
    await page.keyboard.press("Enter");
    expect(await page.getByRole("row").count()).toBe(exercise.notes.length + 1);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Progress" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: exercise.title, exact: true }).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: /Hear the take/ }).waitFor();
    await page.keyboard.press("t");
    await page.getByRole("button", { name: /Hush/ }).waitFor();
    await page.keyboard.press("t");
    await page.getByRole("button", { name: /Hear the take/ }).waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Practise this" }).waitFor();
    expect(complaints).toEqual([]);
  });

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

  test("the reference sounds in beats and notes under the production policy, and stops at once", async () => {
    const { page, complaints } = await open();
    await page.keyboard.press("Enter");
    await page.keyboard.press("h");
    await page.locator(".staff .abcjs-note.now").first().waitFor();
    await page.locator(".tab-row text.now", { hasText: "-7" }).waitFor();
    await page.keyboard.press("Space");
    await page.getByRole("button", { name: /Start/ }).waitFor();
    expect(await page.locator(".tab-row text.now").count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  test("a microphone that is not allowed is explained, and the sheet stays usable", async () => {
    const { page } = await open({ allowMicrophone: false });
    await page.keyboard.press("Enter");
    await page.keyboard.press("Space");
    await page.getByText(/The microphone is not allowed\. Allow it/).waitFor();
    await page.keyboard.press("s");
    await page.getByText(/Simulated player/).waitFor();
  });

  test("stopping early marks what was played and does not blame the rest", async () => {
    const take = microphoneTake(exercise, 41, false);
    const { page } = await open({ wavPath: take.wavPath });
    await page.keyboard.press("Enter");
    await page.keyboard.press("Space");
    await page.locator(".tab-row text.now", { hasText: "-8" }).waitFor({ timeout: 20_000 });
    await page.keyboard.press("Space");
    await kept(page);
    const [entry] = await keptAttempts(page);
    const found = entry === undefined ? [] : verdicts(entry.attempt);
    expect(found.slice(0, 3)).toEqual(["hit", "hit", "hit"]);
    expect(found.slice(-5)).toEqual(Array(5).fill("not measured"));
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

  test("what was chosen is there again after a reload", async () => {
    const { page } = await open();
    await page.getByLabel("Harp", { exact: true }).selectOption("A");
    await page.getByLabel("Position").selectOption("3");
    await page.getByText("B dorian scale").waitFor();
    await page.reload();
    await enterRoom(page, ROOM_KEYS.drills);
    await page.getByText("B dorian scale").waitFor();
  });

  test("every kind of drill can be chosen and shown, without anything amiss", async () => {
    const { page, complaints } = await open();
    const kinds = page.getByRole("group", { name: "Kind of drill" }).getByRole("radio");
    expect(await kinds.count()).toBe(10);
    // At one note to the beat a run on one breath would be longer than is asked of anyone.
    await page.getByRole("group", { name: "Notes to the beat" }).getByLabel("2").check();
    // The last, random notes, must not show what will be asked.
    for (let kind = 0; kind < 9; kind++) {
      await kinds.nth(kind).check();
      await page.locator(".staff svg").first().waitFor();
      expect(await page.getByRole("alert").count()).toBe(0);
      expect(await page.locator(".tab-row text").count()).toBeGreaterThan(1);
    }
    await page.getByLabel("long tones").check();
    await page.getByText(/Stop and rest if you feel light-headed/).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(1280);
    expect(complaints).toEqual([]);
  });

  test("a drill is heard before it is chosen, and hushed by the same key or by another choice", async () => {
    const { page, complaints } = await open();
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    await page.locator(".staff svg").waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hush/ }).waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hush/ }).waitFor();
    await page.getByLabel("Position").selectOption("3");
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("random notes are asked for by degree, without giving them away", async () => {
    const { page, complaints } = await open();
    await page.getByLabel("random notes").check();
    await page.getByLabel("by degree").check();
    await page.getByRole("button", { name: "Practise this" }).click();
    expect(await page.locator(".staff").count()).toBe(0);
    await page.keyboard.press("Space");
    const asked = page.locator(".called .what");
    await expect.poll(() => asked.textContent(), { timeout: 20_000 }).toMatch(/^(b?[1-7])$/);
    expect(await page.locator(".harp .next").count()).toBe(0);
    await page.keyboard.press("Escape");
    expect(complaints).toEqual([]);
  });

  test("a mode the harp lacks is refused in words, and cannot be started", async () => {
    const { page } = await open();
    await page.getByLabel("Position").selectOption("1");
    await page.getByLabel("Mode").selectOption("locrian");
    await page.getByText(/This cannot be played: .*without overblows/).waitFor();
    expect(await page.getByRole("button", { name: "Practise this" }).isDisabled()).toBe(true);
  });

  test("a deleted attempt can be brought back", async () => {
    const take = microphoneTake(exercise, 51, false);
    const { page } = await open();
    await page.keyboard.press("Enter");
    await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
    await kept(page);
    await page.getByRole("button", { name: "Progress" }).click();
    await page.getByRole("button", { name: /^Delete/ }).click();
    await page.getByText("Nothing here yet.").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByRole("button", { name: exercise.title, exact: true }).waitFor();
  });
});
