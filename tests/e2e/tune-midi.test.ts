import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { notesOf, tuneOf } from "../support/any-tune.ts";
import { END, key, metre, midiFile, note, text } from "../support/midi-file.ts";
import { begin, scoreOfParts, note as xmlNote } from "../support/musicxml.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";

const browser = oneBrowserEach();
/** A busy machine may take long. */
const PATIENT = { timeout: 30_000 };

function file(name: string, bytes: Uint8Array | string): string {
  const at = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), name);
  writeFileSync(at, bytes);
  return at;
}

/** One sharp; the tune ends on A, so it is A dorian; the first note is 20 of 480 ticks short: [calc] 20.8 ms. */
const MIDI = midiFile([
  [...metre(4, 2), ...key(1, 0), ...END],
  [
    ...text(3, "Fiddle"),
    ...[...note(69, 460), ...note(71, 500), ...note(72, 480), ...note(74, 480)],
    ...[...note(76, 960), ...note(69, 960), ...END],
  ],
  [...text(3, "Drone"), ...note(45, 1920), ...note(45, 1920), ...END],
]);

describe.skipIf(chromiumPath === null)(`files other than ABC in a real browser${whyNoBrowser}`, () => {
  test("a MIDI file is kept with the track, the grid and the mode that were chosen, all by keyboard", async () => {
    const { page, complaints } = await browser.open();
    await page.getByRole("button", { name: "Tunes" }).click();
    await page.getByLabel("File of tunes").setInputFiles(file("lanterns.mid", MIDI));
    const panel = page.getByRole("region", { name: /lanterns\.mid/ });
    await panel.getByText(/^6 notes on the grid 1\/\d+; none is moved by more than 20\.8 ms\.$/).waitFor();
    // First values are the reader's: the track most like a melody, the mode the file's signature allows.
    expect(await panel.getByLabel("Track").locator("option:checked").textContent()).toBe(
      "Fiddle, channel 1, 6 notes",
    );
    expect(await panel.getByLabel("Mode").locator("option:checked").textContent()).toBe("G major");
    await panel.locator(".drawing svg").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await panel.getByLabel("Grid").focus();
    await page.keyboard.press("ArrowDown");
    await panel.getByText(/^6 notes on the grid 1\/8; none/).waitFor();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowDown");
    await expect
      .poll(() => panel.getByLabel("Mode").locator("option:checked").textContent())
      .toBe("A dorian");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByText("1 tune brought in.").waitFor();
    await page.getByLabel(/Find/).fill("fiddle");
    await page.getByRole("button", { name: "Fiddle", exact: true }).waitFor();
    expect(await page.locator(".tune-rows tbody tr[data-row]").textContent()).toMatch(
      /^Fiddlelanterns\.mid4\/4A dorian/,
    );
    expect(complaints).toEqual([]);
  });

  test("another track can be listened for, and leaving keeps nothing", async () => {
    const { page, complaints } = await browser.open();
    await page.getByRole("button", { name: "Tunes" }).click();
    await page.locator(".tune-rows button.open").first().waitFor();
    await page.getByLabel("File of tunes").setInputFiles(file("lanterns.mid", MIDI));
    const panel = page.getByRole("region", { name: /lanterns\.mid/ });
    await panel.getByLabel("Track").selectOption({ label: "Drone, channel 1, 2 notes" });
    await panel.getByText(/^2 notes on the grid/).waitFor();
    await panel.getByRole("button", { name: "Leave it" }).click();
    expect(await panel.count()).toBe(0);
    await page.getByLabel(/Find/).fill("drone");
    await page.getByText("No tune is like that.", { exact: false }).waitFor();
    // A broken one is named, and can only be left.
    await page.getByLabel("File of tunes").setInputFiles(file("broken.mid", MIDI.slice(0, 30)));
    await page.getByText(/It cannot be read: MIDI: /).waitFor();
    expect(await page.getByRole("button", { name: "Keep this tune" }).isDisabled()).toBe(true);
    expect(complaints).toEqual([]);
  });

  test("of a MusicXML file of several parts and voices the line is chosen, all by keyboard", async () => {
    const { page, complaints } = await browser.open();
    const inVoice = (name: string, voice: string) => xmlNote(name, 8, `<voice>${voice}</voice>`);
    const both = `${inVoice("D5", "1")}<backup><duration>8</duration></backup>${inVoice("G4", "2")}`;
    const parts = scoreOfParts([
      ["P1", "Flute", begin(xmlNote("B4", 8))],
      ["P2", "Fiddle", begin(both)],
    ]);
    await page.getByRole("button", { name: "Tunes" }).click();
    await page.getByLabel("File of tunes").setInputFiles(file("lanterns.musicxml", parts));
    const panel = page.getByRole("region", { name: /lanterns\.musicxml/ });
    await panel.locator(".drawing svg").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => panel.getByLabel("Voice").locator("option").count(), PATIENT).toBe(2);
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => panel.getByLabel("Voice").inputValue(), PATIENT).toBe("2");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByText("1 tune brought in.").waitFor();
    await page.getByLabel(/Find/).fill("lanterns");
    expect(await page.locator(".tune-rows tbody tr[data-row] .begins").allTextContents()).toEqual(["G"]);
    expect(complaints).toEqual([]);
  });

  test("a MusicXML file is kept at once, under whatever name it comes", async () => {
    const { page, complaints } = await browser.open();
    await page.getByRole("button", { name: "Tunes" }).click();
    const tune = tuneOf([{ notes: notesOf(["G4", 4], ["A4", 4]) }]);
    await page.getByLabel("File of tunes").setInputFiles(file("anything.abc", writeMusicXml(tune)));
    await page.getByText("1 tune brought in.").waitFor();
    await page.getByLabel(/Find/).fill("tune by hand");
    await page.getByRole("button", { name: "Tune by Hand", exact: true }).click();
    await page.locator(".tune-sheet .tab-row text").nth(1).waitFor();
    expect(await page.locator(".tune-sheet .tab-row text").count()).toBe(2);
    expect(complaints).toEqual([]);
  });
});
