import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { planTune } from "../../core/exercise/tune-plan.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import { planSetting, rulesOf, rungStretch, stretchExercise } from "../../renderer/tunes/tune-view.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

/** A file as a player has it: two tunes of ours and a broken one between them. */
const BAND = `X:1
T:The Dance Before the Rain
R:jig
M:6/8
L:1/8
K:D
|:dAF DFA|dAF E3|dAF DFA|GFE D3|faf dfd|AFA dAF|GBG FAF|EFE D3:|

X:2
T:A Page That Got Wet
M:6/8
L:1/8
K:H
dAF DFA|

X:3
T:Lanterns Along the Lane
R:polka
M:2/4
L:1/8
K:G
|:GB dB|cA FD|GB dg|fd cA|GB dB|cA FD|GA Bc|AF G2:|
`;

/** As long as the page itself is waited for: a busy machine draws late. */
const PATIENT = { timeout: 30_000 };

const browser = oneBrowserEach();

function file(name: string, text: string): string {
  const at = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), name);
  writeFileSync(at, text);
  return at;
}

/** What the second rung of the first tune's ladder is: its first phrase, slowly. */
function firstPhrase(): Exercise {
  const read = readAbc(BAND);
  const tune = read.kind === "tunes" ? read.tunes[0] : undefined;
  if (tune === undefined) throw new Error("the band's file holds a tune");
  const open = { id: "any", tune, abc: "", voices: [], study: { id: "any" } };
  const plan = planTune(
    planSetting(open, harpsToTry({ layouts: [STANDARD_LAYOUT] }), PLAIN_AND_BENDS, rulesOf(FIRST_SETTINGS)),
  );
  const rung = plan.ladder[1];
  if (rung === undefined) throw new Error("a ladder has rungs");
  const made = stretchExercise(open, plan, PLAIN_AND_BENDS, rungStretch(rung));
  if (made.kind === "impossible") throw new Error(made.reason);
  return made.exercise;
}

async function toTunes(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Tunes" }).click();
  await page.locator(".tune-rows button.open").first().waitFor();
}

describe.skipIf(chromiumPath === null)(`tunes in a real browser${whyNoBrowser}`, () => {
  test("a new user brings in a file, sees staff and tab for a harp, learns a phrase by the ladder, and prints the sheet", async () => {
    const exercise = firstPhrase();
    const take = microphoneTake(exercise, 3, false);
    const { page, complaints } = await browser.open({ wavPath: take.wavPath });
    await toTunes(page);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByLabel("File of tunes").setInputFiles(file("band.abc", BAND));
    await page.getByText("2 tunes brought in, 1 left out:").waitFor();
    // The bad tune is named with its line and column, and loses neither of the others.
    await page.getByText(/tune 2 \(A Page That Got Wet\), line 13, column \d+: /).waitFor();
    await page.getByLabel(/Find/).fill("lantern");
    await expect.poll(() => page.locator(".tune-rows button.open").count(), PATIENT).toBe(1);
    await page.getByLabel(/Find/).fill("dafdfa");
    await page.getByRole("button", { name: "The Dance Before the Rain", exact: true }).waitFor();
    await page.getByLabel(/Find/).press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "The Dance Before the Rain" }).waitFor();
    await page.locator(".tune-sheet .staff svg").first().waitFor();
    await page.getByText(`${exercise.harp.key} harp`, { exact: false }).first().waitFor();
    expect(await page.locator(".tune-sheet .tab-row text").count()).toBe(42); // [calc] 6+4+6+4+6+6+6+4 notes, each written bar once
    expect(await axeViolations(page)).toEqual([]);

    // The ladder: listen first.
    await page.getByText("First listen to A 1–4.").waitFor();
    await page.keyboard.press("Space");
    await page.getByText(/Now A 1–4 at ♩\. = 70/).waitFor({ timeout: 60_000 });
    await page.keyboard.press("Space");
    await page.getByRole("button", { name: /Start/ }).waitFor();
    // Arrows go from phrase to phrase, and no further than there are.
    await page.keyboard.press("ArrowRight");
    await page.getByRole("heading", { name: "The Dance Before the Rain, A 5–8" }).waitFor();
    await page.keyboard.press("ArrowLeft");
    await page.getByRole("heading", { name: "The Dance Before the Rain, A 1–4" }).waitFor();
    await page.keyboard.press("ArrowLeft");
    await page.getByText("This is the first one.").waitFor();
    await page.keyboard.press("Space");
    await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
    const [entry] = await keptAttempts(page);
    expect(entry?.exercise.kind).toBe("tune");
    expect(entry?.exercise.notes).toEqual(exercise.notes);
    expect(entry?.attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, wrong: 0, missed: 0 });
    await page.keyboard.press("Escape");
    await page.getByText(/Now A 1–4 at ♩\. = 70\. 1 in a row so far\./).waitFor();

    await page.emulateMedia({ media: "print" });
    expect(await page.getByRole("button", { name: "Print the sheet" }).isVisible()).toBe(false);
    const pdf = await page.pdf({ format: "A4" });
    expect(pdf.byteLength).toBeGreaterThan(5000);
    expect(complaints).toEqual([]);
  });

  test("a choice that is fixed, another phrase length and another tempo are there again after a reload", async () => {
    const { page, complaints } = await browser.open();
    await toTunes(page);
    // All plain on a G harp as written; its D4 is both 2 draw and 3 blow.
    const low =
      "X:1\nT:Down by the Cellar Steps\nM:2/4\nL:1/8\nK:G\n|:G2 D2|B2 d2|G2 D2|G4|B2 d2|G2 D2|B2 D2|G4:|\n";
    await page.getByLabel("File of tunes").setInputFiles(file("low.abc", low));
    await page.getByText("1 tune brought in.").waitFor();
    await page.getByLabel(/Find/).fill("cellar");
    await page.getByRole("button", { name: "Down by the Cellar Steps", exact: true }).click();
    await page
      .getByRole("row", { name: /^G harp.*as written/ })
      .getByRole("button")
      .click();
    await page.getByText("G harp, 1st position.").waitFor();
    const note = page.getByRole("region", { name: "One note" });
    await note.getByRole("button", { name: "Note after" }).click();
    const second = page.locator(".tune-sheet .tab-row text").nth(1);
    const before = await second.textContent();
    const [other, tab] = before === "3" ? ["2 draw", "-2"] : ["3 blow", "3"];
    await note.getByLabel(other).check();
    await expect.poll(() => second.textContent(), PATIENT).toBe(tab);
    await page.getByRole("group", { name: "Bars to a phrase" }).getByLabel("2").check();
    await page.getByLabel(/Dance tempo/).fill("100");
    await page.getByText("First listen to A 1–2.").waitFor();
    await page.reload();
    await toTunes(page);
    await page.getByLabel(/Find/).fill("cellar");
    await page.getByRole("button", { name: "Down by the Cellar Steps", exact: true }).click();
    await page.getByText("First listen to A 1–2.").waitFor();
    await expect.poll(() => second.textContent(), PATIENT).toBe(tab);
    expect(await page.getByLabel(/Dance tempo/).inputValue()).toBe("100");
    expect(complaints).toEqual([]);
  });

  test("the fewest harps for the tunes in sight are found, and what each further one adds", async () => {
    const { page, complaints } = await browser.open();
    await toTunes(page);
    await page.getByText("Which harps play these 41 tunes?").click();
    await page.getByRole("button", { name: "Find them" }).click();
    await page.getByText(/At least \d+ harps? plays? \d+ of 41: /).waitFor();
    const adds = await page.locator(".own tbody td:nth-child(2)").allTextContents();
    expect(adds.length).toBeGreaterThan(0);
    // The first harp adds most, each further one no more than the one before.
    expect(adds.map(Number)).toEqual([...adds.map(Number)].sort((a, b) => b - a));
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("of a tune in two voices the one to learn is chosen", async () => {
    const { page, complaints } = await browser.open();
    await toTunes(page);
    const abc = "X:1\nT:Two Fiddles in the Hall\nM:2/4\nL:1/8\nK:G\nV:high\nGB dB|gd BG|\nV:low\nG2 D2|G4|\n";
    await page.getByLabel("File of tunes").setInputFiles(file("two.abc", abc));
    await page.getByText("1 tune brought in.").waitFor();
    await page.getByLabel(/Find/).fill("two fiddles");
    await page.getByRole("button", { name: "Two Fiddles in the Hall", exact: true }).click();
    const tabs = page.locator(".tune-sheet .tab-row text");
    await expect.poll(() => tabs.count(), PATIENT).toBe(8); // [calc] quavers of two bars of 2/4
    await page.getByLabel("Voice").selectOption("low");
    await expect.poll(() => tabs.count(), PATIENT).toBe(3);
    await page.reload();
    await toTunes(page);
    await page.getByLabel(/Find/).fill("two fiddles");
    await page.getByRole("button", { name: "Two Fiddles in the Hall", exact: true }).click();
    await expect.poll(() => tabs.count(), PATIENT).toBe(3);
    expect(complaints).toEqual([]);
  });

  test("a tune is written with the staff beside it, its faults named where they are, and kept", async () => {
    const { page, complaints } = await browser.open();
    await toTunes(page);
    await page.getByRole("button", { name: "Write or paste one" }).click();
    const area = page.getByLabel(/^ABC/);
    await area.fill("X:1\nT:First Frost\nM:2/4\nL:1/8\nK:Q\nDE FG|");
    await page.getByRole("button", { name: /Not read, line 5, column \d+/ }).waitFor();
    expect(await page.getByRole("button", { name: "Keep this tune" }).isDisabled()).toBe(true);
    await area.fill("X:1\nT:First Frost\nM:2/4\nL:1/8\nK:G\nDE FG|AB cd|");
    await page.locator(".drawing svg").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    expect(await area.inputValue()).toContain("K:Q");
    await page.getByRole("button", { name: "Redo" }).click();
    await page.getByRole("button", { name: "Keep this tune" }).click();
    await page.getByLabel(/Find/).fill("frost");
    await page.getByRole("button", { name: "First Frost", exact: true }).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Delete First Frost" }).click();
    await page.getByText("Deleted: First Frost.").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByRole("button", { name: "First Frost", exact: true }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("twenty thousand tunes come in with progress while the window stays fluid, and are found by their first notes", async () => {
    const many = Array.from(
      { length: 20_000 },
      (_, n) =>
        `X:${n + 1}\nT:Band page ${n + 1}\nR:polka\nM:2/4\nL:1/8\nK:G\n${LETTERS[n % 7]}${LETTERS[(n >> 3) % 7]} ${LETTERS[(n >> 6) % 7]}${LETTERS[(n >> 9) % 7]}|GA Bc|d2 G2|]\n`,
    ).join("\n");
    const { page, complaints } = await browser.open();
    await toTunes(page);
    const at = file("many.abc", many);
    expect(readFileSync(at).byteLength).toBeGreaterThan(1_000_000);
    await page.getByLabel("File of tunes").setInputFiles(at);
    await page.getByText(/\d+ of 20000 tunes/).waitFor({ timeout: 60_000 });
    // The window goes on answering: a tune is found, opened and left while others come in.
    await page.getByLabel(/Find/).fill("lamp over");
    await page.getByRole("button", { name: "The Lamp over the Hall Door" }).click();
    await page.locator(".tune-sheet .staff svg").first().waitFor();
    await toTunes(page);
    await page.getByText("20000 tunes brought in.").waitFor({ timeout: 240_000 });
    await page.getByLabel(/Find/).fill("page 19876");
    await page.getByRole("button", { name: "Band page 19876", exact: true }).waitFor();
    expect(await page.locator(".tune-rows tr[data-row]").count()).toBe(1);
    await page.getByLabel(/Find/).fill("");
    await expect.poll(() => page.getByText("20041 tunes", { exact: true }).count(), PATIENT).toBe(1); // [calc] with the 41 that come along
    expect(await page.locator(".tune-rows tr[data-row]").count()).toBeLessThan(60);

    // A second file, stopped on the way, leaves nothing behind.
    await page
      .getByLabel("File of tunes")
      .setInputFiles(file("more.abc", many.replaceAll("Band page", "Other page")));
    await page.getByText(/\d+ of 20000 tunes/).waitFor({ timeout: 60_000 });
    await page.getByRole("button", { name: "Stop" }).click();
    await page.getByText("Stopped: nothing was brought in.").waitFor({ timeout: 60_000 });
    await page.getByLabel(/Find/).fill("other page");
    await page.getByText("No tune is like that.", { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  }, 420_000);
});

const LETTERS = "GABcdef";
