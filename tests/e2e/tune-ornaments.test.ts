import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { file, toTunes } from "./tune-room.ts";

const browser = oneBrowserForAll();

/** Ours: a cut before the first note, a roll on the fourth, a grace note that ends the last. */
const ORNAMENTED = `X:1
T:The Dance Before the Frost
R:jig
M:6/8
L:1/8
K:D
{g}fed ~d3|edB AFA|def gfe|d3 d3{e}|]
`;

describe.skipIf(chromiumPath === null)(`ornaments on the learning staff${whyNoBrowser}`, () => {
  test("grace notes and rolls are drawn, and the tab stays under its notes", async () => {
    const { page, complaints } = await browser.open();
    await toTunes(page);
    await page.getByLabel("File of tunes").setInputFiles(file("frost.abc", ORNAMENTED));
    await page.getByLabel(/Find/).fill("frost");
    await page.getByRole("button", { name: "The Dance Before the Frost", exact: true }).click();
    await page.locator(".tune-sheet .staff svg").first().waitFor();
    const staff = page.locator(".tune-sheet .staff");
    // [calc] 4 + 6 + 6 + 2 notes, each with its tab; ornaments have none.
    expect(await page.locator(".tune-sheet .tab-row text").count()).toBe(18);
    expect(await staff.locator(".abcjs-note").count()).toBe(18);
    // The roll's sign, and two grace notes with their smaller heads.
    expect(await staff.locator("path[data-name='scripts.roll']").count()).toBe(1);
    const drawn = await staff.locator(".abcjs-notehead").count();
    expect(drawn).toBe(18 + 2);
    // The tab of a note stands under its own head, not under the grace note before it.
    const head = await staff.locator(".abcjs-note").first().locator(".abcjs-notehead").first().boundingBox();
    const tab = await page.locator(".tune-sheet .tab-row text").first().boundingBox();
    expect(Math.abs((head?.x ?? 0) - (tab?.x ?? Number.NaN))).toBeLessThan(12);
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
