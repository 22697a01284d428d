import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { type KeptPlan, keptPlan } from "../../core/progress/plan/plan-kept.ts";
import type { PlanLine, PlayedLine } from "../../core/progress/plan/plan-shape.ts";
import { practiceDay } from "../../core/progress/practice-day.ts";
import { drill, exerciseOf } from "../support/drills.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts, keptSettings } from "./kept.ts";
import { watchMicrophones } from "./pretend-sound.ts";
import { microphoneTake, runMs } from "./takes.ts";

const browser = oneBrowserEach();
const exercise = exerciseOf();

/** A quarter of a minute: the look at the sheet, the count-in and ten seconds of playing use it up. */
const SHORT = 0.25;

const line = (kind: PlayedLine["kind"], item: string): PlayedLine => ({
  kind,
  number: 1,
  minutes: SHORT,
  parts: [
    {
      item,
      title: exercise.title,
      harp: "G harp",
      recipe: { kind: "drill", spec: { kind: "scale", ...drill() } },
      why: "as this test wants it",
    },
  ],
  turns: "mixed",
  why: "a short line",
});
const rest: PlanLine = { kind: "rest", number: 1, minutes: 0.1, why: "a short rest" };

/** Puts a plan into the page's settings, as if it had been made and changed earlier today. */
async function keepPlan(page: Page, plan: KeptPlan): Promise<void> {
  await page.evaluate(async (dayPlan) => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const skipped = { harp: "skipped", microphone: "skipped", drill: "skipped" };
    const value = { firstSteps: skipped, againAfterSeconds: 4, cautionsRead: ["Hearing"], dayPlan };
    await new Promise<void>((resolve, reject) => {
      const writing = database.transaction("settings", "readwrite");
      writing.objectStore("settings").put({ id: "settings", value });
      writing.oncomplete = () => resolve();
      writing.onerror = () => reject(writing.error);
    });
    database.close();
  }, plan as never);
  await page.reload();
  await page.getByRole("button", { name: "Start the plan" }).waitFor();
}

const openMicrophones = (page: Page) =>
  page.evaluate(() => {
    const { openedTracks } = globalThis;
    return {
      ever: openedTracks.length,
      now: openedTracks.filter(({ readyState }) => readyState === "live").length,
    };
  });

const today = practiceDay(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone);

describe.skipIf(chromiumPath === null)(`a plan in a real browser${whyNoBrowser}`, () => {
  test("runs from end to end without a key after the start, with the microphone closed in the rest", async () => {
    const { wavPath } = microphoneTake(exercise, 3, false);
    const { page, complaints } = await browser.open({ wavPath });
    await keepPlan(
      page,
      keptPlan({ day: today, minutes: 5, lines: [line("warm-up", "one"), rest, line("due", "two")] }),
    );
    await watchMicrophones(page);
    await page.keyboard.press("Space");
    const strip = page.getByRole("region", { name: "Plan of the day" });
    await strip.getByText(/Line 1 of 2: Warm-up, 20 s left/).waitFor();
    await strip.getByText(/Begins in \d s/).waitFor();
    expect(await openMicrophones(page)).toEqual({ ever: 0, now: 0 });
    await page.getByText(/count-in, then hole 6/).waitFor({ timeout: 20_000 });
    await page.getByText(/A rest in \d s/).waitFor({ timeout: runMs(exercise) });
    await page.getByRole("heading", { name: "Rest" }).waitFor({ timeout: 20_000 });
    await page.getByText("The microphone is closed.").waitFor();
    expect(await openMicrophones(page)).toEqual({ ever: 1, now: 0 });
    expect(await axeViolations(page)).toEqual([]);
    await strip.getByText(/Line 2 of 2: To revisit/).waitFor({ timeout: 20_000 });
    await page.getByText(/The end of the plan in \d s/).waitFor({ timeout: runMs(exercise) });
    await page.getByRole("heading", { name: "The plan is at its end" }).waitFor({ timeout: 20_000 });
    // [calc] the lines are done; of each at least its quarter of a minute was practised
    await page.getByText("2 of 2 lines, 1 minute of practice.").waitFor();
    expect(await openMicrophones(page)).toEqual({ ever: 2, now: 0 });
    expect(await axeViolations(page)).toEqual([]);
    const kept = await keptAttempts(page);
    expect(kept).toHaveLength(2);
    for (const { attempt } of kept)
      expect(attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, wrong: 0, missed: 0 });
    await page.keyboard.press("Space");
    await page.getByRole("button", { name: "Plan more" }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("left in the middle goes on where it was, also in a new window", async () => {
    const { page, complaints } = await browser.open();
    const lines = [line("warm-up", "one"), rest, line("due", "two")];
    await keepPlan(page, keptPlan({ day: today, minutes: 5, lines }));
    await page.keyboard.press("Space");
    await page.getByText(/Line 1 of 2/).waitFor();
    await page.keyboard.press("k");
    // Nobody rests who has not played.
    await page.getByText(/Line 2 of 2: To revisit/).waitFor();
    await page.keyboard.press("l");
    await page.getByText(/Line 2 of 2: To revisit, 2 min left/).waitFor();
    await page.getByText(/Begins in [123] s/).waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: /^Go on with To revisit/ }).waitFor();
    await page.reload();
    await page.getByRole("button", { name: /^Go on with To revisit/ }).waitFor();
    const kept = (await keptSettings(page))?.dayPlan as unknown as KeptPlan;
    expect(kept.lines["warm-up 1"]).toMatchObject({ state: "skipped" });
    expect(kept.plan.lines.at(-1)?.minutes).toBe(SHORT + 2);
    await enterRoom(page, ROOM_KEYS.today);
    await page.keyboard.press("Space");
    await page.getByText(/Line 2 of 2: To revisit, 2 min left/).waitFor();
    expect(complaints).toEqual([]);
  });
});
