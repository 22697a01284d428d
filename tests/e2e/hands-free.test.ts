import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { countInSeconds, playingSeconds } from "../../core/exercise/exercise.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { exerciseOf } from "../support/drills.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

const browser = oneBrowserEach();
const RATE_HZ = 44_100;

/** One after another on the fake microphone: sound, or so many seconds of silence. */
function recording(...parts: readonly (Float32Array | number)[]): string {
  const sounds = parts.map((part) =>
    typeof part === "number" ? new Float32Array(Math.round(part * RATE_HZ)) : part,
  );
  const whole = new Float32Array(sounds.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of sounds) {
    whole.set(part, at);
    at += part.length;
  }
  const wavPath = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), "evening.wav");
  writeFileSync(wavPath, writeWav(whole, RATE_HZ, "pcm16"));
  return wavPath;
}

const exercise = exerciseOf();
const COUNT_IN = countInSeconds(exercise);

describe.skipIf(chromiumPath === null)(`both hands full, in a real browser${whyNoBrowser}`, () => {
  test("a note held begins the count-in, the marks come by themselves, and the next round would too", async () => {
    const { samples } = microphoneTake(exercise, 3, false);
    const played = samples.subarray(Math.round(COUNT_IN * RATE_HZ));
    const held = played.subarray(0, Math.round(0.62 * RATE_HZ)); // the first note, a crotchet at 90
    // A second before the note, and the count-in between its being noticed and beat 0.
    const { page, complaints } = await browser.open({
      wavPath: recording(1, held, COUNT_IN + 0.2, played),
    });
    await page.getByRole("button", { name: "Practise this" }).press("Enter");
    await page.getByText("More", { exact: true }).click();
    await page.getByLabel("The next round").selectOption("4");
    await page.getByText("More: again after 4 s").click();
    await page.getByLabel("also with a note held").check();
    await page.getByText("Hold any note to begin.").waitFor();
    await page.getByText(/count-in, then hole 6/).waitFor({ timeout: 20_000 });
    await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
    await page.getByText(/Again in \d s/).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    const [entry] = await keptAttempts(page);
    expect(entry?.attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, wrong: 0, missed: 0 });
    // The round after it begins without a touch; leaving ends it.
    await page.getByText(/count-in, then hole 6/).waitFor({ timeout: 20_000 });
    await page.keyboard.press("Escape");
    await page.getByText("The microphone is open.").waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Practise this" }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("an echo is heard, then played back without seeing a note", async () => {
    const { samples } = microphoneTake(exercise, 4, false);
    const { page, complaints } = await browser.open({
      wavPath: recording(playingSeconds(exercise) + 0.8, samples),
    });
    await page.getByRole("button", { name: "Practise this" }).press("Enter");
    await page.getByLabel("echo").check();
    expect(await page.locator(".tab-row text").count()).toBe(exercise.notes.length);
    await page.keyboard.press("Space");
    await page.getByText("Listen", { exact: true }).waitFor();
    await page.getByText("bar 2 of 4").waitFor();
    expect(await page.locator(".tab-row text").count()).toBe(0);
    await page.getByText("Your turn", { exact: true }).waitFor({ timeout: runMs(exercise) });
    expect(await page.locator(".tab-row text").count()).toBe(0);
    expect(await page.locator(".hole.next").count()).toBe(0);
    await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
    const [entry] = await keptAttempts(page);
    expect(entry?.attempt.way).toBe("echo");
    expect(entry?.attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, wrong: 0, missed: 0 });
    expect(complaints).toEqual([]);
  });
});
