import { describe, expect, test } from "vitest";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { bpm } from "../../core/units.ts";
import { harp } from "../support/harps.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { plantedTake, runMs } from "./takes.ts";

const { open } = oneBrowserEach();

/** What a new visitor gets who chooses backing in chords, once through: D C G D on a G harp, crotchet = 90. */
const made = makeDrill({
  kind: "backing",
  harp: harp("G"),
  position: 2,
  mode: "mixolydian",
  abilities: PLAIN_AND_BENDS,
  tempo: { bpm: bpm(90), noteValue: "1/4" },
  countInBeats: 4,
  chords: "I-VII-IV-I",
  strokes: "beats",
  mostHoles: 3,
  partial: true,
  repeats: 1,
});
if (made.kind === "impossible") throw new Error(made.reason);
const { exercise } = made;

describe.skipIf(chromiumPath === null)(`chords through the microphone${whyNoBrowser}`, () => {
  test("a backing drill is chosen, played and marked: the chord one hole too high is told, the others are right", async () => {
    // The chord of note 3 sounds on the holes above: [F 1] draw 3-5 of a G harp instead of 2-4.
    const take = plantedTake(exercise, 51, [{ kind: "wrong", index: 2 }]);
    const { page, complaints } = await open({ wavPath: take.wavPath });
    await page.getByLabel("backing in chords").check();
    await page.getByLabel(/^Times/).fill("1");
    await page.getByText("D-C-G-D in D mixolydian, backing").waitFor();
    await page.getByRole("button", { name: "Practise this" }).click();
    await page.getByRole("img", { name: /next: holes 2 3 4, breath in/ }).waitFor();
    await page.keyboard.press("Space");
    await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
    await page.getByText(/Note 3 \(-234\): wrong holes, heard -345: neighbour hole/).waitFor();
    const [entry] = await keptAttempts(page);
    expect(entry?.exercise).toEqual(exercise);
    const marks = entry?.attempt.marks ?? [];
    expect(marks).toHaveLength(exercise.notes.length);
    expect(marks.filter(({ verdict }) => verdict !== "hit").map(({ index }) => index)).toEqual([2]);
    expect(marks[2]?.heardAs).toEqual(["-345"]);
    expect(complaints).toEqual([]);
  });
});
