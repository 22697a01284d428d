import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { changeTempo } from "../../core/exercise/change-tempo.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import { type DrillChoice, FIRST_CHOICE } from "../../renderer/drills/drill-choice.ts";
import { exerciseOfChoice } from "../../renderer/drills/exercise-of-choice.ts";
import { EMPTY_SHELF } from "../../renderer/drills/shelf.ts";
import { doInWords } from "../../renderer/ui/breath-words.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

const browser = oneBrowserEach();

/** What the drill screen sets with a choice. */
function exerciseOf(change: Partial<DrillChoice>): Exercise {
  const made = exerciseOfChoice({ ...FIRST_CHOICE, ...change }, 440, EMPTY_SHELF);
  if (made.kind === "impossible") throw new Error(made.reason);
  return made.exercise;
}

async function keptAttempt(page: Page, exercise: Exercise) {
  await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
  const [entry] = await keptAttempts(page);
  if (entry === undefined) throw new Error("nothing was kept");
  expect(entry.peak).toBeGreaterThan(0.05); // the microphone really heard the file
  return entry.attempt;
}

describe.skipIf(chromiumPath === null)(`without a beat, in a real browser${whyNoBrowser}`, () => {
  test("at the player's own pace the sheet follows him, ends behind his last note and tells how even he was", async () => {
    const asked = exerciseOf({});
    const played = changeTempo(asked, -18).exercise; // crotchet = 72 where 90 is written
    const { page, complaints } = await browser.open({ wavPath: microphoneTake(played, 5, false).wavPath });
    await page.getByRole("button", { name: "Practise this" }).waitFor();
    await page.keyboard.press("Enter");
    await page.getByLabel("own pace").check();
    await page.keyboard.press("Space");
    // What to do next is told as he goes: first for the fifth note, later for the eighth.
    for (const index of [4, 7]) {
      const words = doInWords(asked.notes[index]?.action as ReedAction);
      await page.locator(".next-action p", { hasText: words }).waitFor({ timeout: runMs(played) });
    }
    const attempt = await keptAttempt(page, played);
    expect(attempt.way).toBe("own pace");
    expect(attempt.summary.notes).toMatchObject({ hit: asked.notes.length, wrong: 0, missed: 0 });
    const { biasMs, tempoRatio, evennessShare } = attempt.summary.timing;
    expect(biasMs).toBeNull();
    expect(tempoRatio).toBeCloseTo(72 / 90, 2); // [calc]
    expect(evennessShare).toBeLessThan(0.03); // the simulated player wavers by 8 ms of 833
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("a bend that is held is told its distance, its drift and its steadiness", async () => {
    const change = { kind: "bend", bendHole: 3, bendDepth: 1, repeats: 2 } as const;
    const exercise = exerciseOf(change);
    const { page, complaints } = await browser.open({ wavPath: microphoneTake(exercise, 6, false).wavPath });
    await page.getByRole("button", { name: "Practise this" }).waitFor();
    await page.getByLabel("bends, overblows").check();
    await page.getByLabel("Hole", { exact: true }).selectOption("3");
    await page.getByLabel("How deep").selectOption("1");
    await page.getByLabel("Times").fill("2");
    await page.getByRole("button", { name: "Practise this" }).click();
    await page.getByLabel("hold").check();
    await page.keyboard.press("Space");
    const attempt = await keptAttempt(page, exercise);
    expect(attempt.way).toBe("hold");
    expect(attempt.marks).toHaveLength(exercise.notes.length);
    expect(attempt.summary.notes.hit).toBe(exercise.notes.length);
    const { hold } = attempt.summary;
    expect(hold?.measuredNotes).toBe(exercise.notes.length);
    expect(Math.abs(hold?.driftCents ?? 99)).toBeLessThan(3);
    expect(hold?.steadinessCents).toBeLessThan(5);
    await page.getByText(/drift/).first().waitFor();
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
