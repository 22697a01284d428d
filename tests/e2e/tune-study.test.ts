import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { file, PATIENT, toTunes } from "./tune-room.ts";

const browser = oneBrowserForAll();

describe.skipIf(chromiumPath === null)(`a tune studied in a real browser${whyNoBrowser}`, () => {
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
});
