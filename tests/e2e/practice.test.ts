import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import type { Attempt } from "../../core/score/attempt.ts";
import { exerciseOf } from "../support/drills.ts";
import {
  axeViolations,
  type BrowserOptions,
  chromiumPath,
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
    await page.getByRole("button", { name: "Attempts", exact: true }).focus();
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
});
