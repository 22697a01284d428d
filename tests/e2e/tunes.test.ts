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
import { file, PATIENT, toTunes } from "./tune-room.ts";

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

const browser = oneBrowserEach();

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
});
