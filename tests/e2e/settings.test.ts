import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

const look = (page: Page) =>
  page.evaluate(() => ({
    paper: getComputedStyle(document.body).backgroundColor,
    text: getComputedStyle(document.body).fontSize,
  }));

/** What sticks out of the window or of a box that does not scroll. */
const cut = (page: Page) =>
  page.evaluate(() => {
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    const boxes = [...document.querySelectorAll<HTMLElement>("main :not(.only-read-aloud), nav *")].filter(
      (box) => {
        const { overflowX } = getComputedStyle(box);
        return box.matches("button, select, td, th, label, h1, h2, p, .row") && overflowX !== "visible"
          ? box.scrollWidth > box.clientWidth + 1
          : false;
      },
    );
    return [
      ...(wide > 0 ? [`the page, by ${wide} px`] : []),
      ...boxes.map((box) => box.outerHTML.slice(0, 80)),
    ];
  });

describe.skipIf(chromiumPath === null)(`who is new${whyNoBrowser}`, () => {
  test("chooses a harp, hears that the microphone works, and sees a simulated player marked, by keyboard", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    const steps = page.getByRole("region", { name: "First steps" });
    await steps.getByRole("button", { name: "This is my harp" }).waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Shift+Tab");
    // [calc] backwards from the button: temperament, register, key.
    expect(await page.evaluate(() => document.activeElement?.previousElementSibling?.textContent)).toBe(
      "Key",
    );
    await page.keyboard.type("A");
    await steps.getByLabel("Key").press("Tab");
    await steps.getByRole("button", { name: "This is my harp" }).press("Enter");
    await steps.getByRole("button", { name: "Try the microphone" }).press("Enter");
    // The fake device hums by itself, or is silent: either way it is open.
    const on = steps.getByRole("button", { name: /It hears me|Go on all the same/ });
    await on.waitFor(PATIENT);
    await on.press("Enter");
    await steps.getByRole("button", { name: /see a simulated player/ }).press("Enter");
    await page.getByText("Simulated player, not you.").waitFor(PATIENT);
    expect(await page.getByText(/A[b♭]? harp/).count()).toBeGreaterThan(0);
    await enterRoom(page, ROOM_KEYS.today);
    await steps.getByRole("button", { name: /^Skip ?: / }).waitFor(PATIENT);
    await page.reload();
    await steps.getByRole("button", { name: "Open the drill" }).waitFor(PATIENT);
    await steps.getByRole("button", { name: "Skip all of them" }).press("Enter");
    await steps.waitFor({ state: "detached" });
    await enterRoom(page, ROOM_KEYS.settings);
    await page.getByRole("button", { name: "Show the first steps again" }).press("Enter");
    await steps.getByRole("button", { name: "This is my harp" }).waitFor(PATIENT);
    expect(complaints).toEqual([]);
  });
});

describe.skipIf(chromiumPath === null)(`the settings${whyNoBrowser}`, () => {
  test("apply at once, are there after the window is opened again, and go back", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.settings });
    const first = await look(page);
    const group = (name: string) => page.getByRole("region", { name, exact: true });
    const chooseAll = async () => {
      await group("Look").getByLabel("dark").check();
      await group("Look").getByLabel("125 %").check();
      await group("Notes, tab and harp")
        .getByLabel(/^German/)
        .check();
      await group("Notes, tab and harp").getByLabel("4B and 4D").check();
      await group("Notes, tab and harp").getByLabel("strokes").check();
      await group("Notes, tab and harp").getByLabel("on the right").check();
      await group("Sound").getByLabel("The harp's A").fill("443");
      await group("Sound").getByLabel("Loudness").fill("-30");
      await group("Sound").getByLabel("wood").check();
      await group("Sound").getByLabel("like the others").check();
      await group("Sound").getByLabel("only seen").check();
      await group("Sound").getByLabel("silent").check();
      await group("Sound").getByLabel("closes when another window is in front").check();
      await group("What is kept").getByLabel("Room for takes").fill("500");
      await group("Plan of the day").getByLabel("Time a day").fill("45");
      await group("Plan of the day").getByLabel("one after the other").check();
    };
    await chooseAll();
    const chosen = await look(page);
    expect(chosen.paper).not.toBe(first.paper);
    expect(chosen.text).toBe("20px"); // [calc] 16 px * 1.25
    await page.getByText("3D// bent by two semitones").waitFor();
    const holes = page.getByRole("img", { name: "G harp" }).locator(".number");
    const fromLeft = await holes.evaluateAll((all) =>
      all
        .toSorted((a, b) => Number(a.getAttribute("x")) - Number(b.getAttribute("x")))
        .map((one) => Number(one.textContent)),
    );
    expect(fromLeft).toEqual([10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
    await group("Sound").getByRole("button", { name: "Hear the beat" }).click();
    await page.getByRole("complementary", { name: "Hearing" }).getByRole("button").click();

    // A key that another had, with a word about it; Space takes the place of a press of the button.
    const keys = group("Keys and pedals");
    await keys.getByRole("button", { name: "Add a key for Hear your take" }).press("Enter");
    await page.keyboard.press("h");
    await page
      .getByText('Changed: H now does "Hear your take", and no longer "Hear it as it should sound".')
      .waitFor();
    await keys.getByRole("button", { name: "Add a key for Faster" }).press("Enter");
    await page.keyboard.press(" ");
    await page.getByText(/Space now does "Faster"/).waitFor();
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    expect(await keys.getByRole("button", { name: "Take away from Faster" }).count()).toBe(1);
    expect(await axeViolations(page)).toEqual([]);

    await page.reload();
    await enterRoom(page, ROOM_KEYS.settings);
    expect(await look(page)).toEqual(chosen);
    // What an archive is to hold is no setting.
    const checked = await page
      .locator('.setting-group:not([aria-label="What is kept"]) input:checked')
      .evaluateAll((all) => all.map((one) => one.parentElement?.textContent));
    expect(checked).toEqual([
      "dark",
      "125 %",
      "German: C D E, B H",
      "4B and 4D",
      "strokes: /",
      "on the right",
      "wood",
      "like the others",
      "only seen",
      "silent",
      "closes when another window is in front",
      "one after the other",
    ]);
    expect(await group("Plan of the day").getByLabel("Time a day").inputValue()).toBe("45");
    expect(await group("Sound").getByLabel("The harp's A").inputValue()).toBe("443");
    expect(await group("What is kept").getByLabel("Room for takes").inputValue()).toBe("500");
    await enterRoom(page, ROOM_KEYS.drills);
    await page.locator(".tab-row").first().waitFor(PATIENT);
    const tabs = await page.locator(".tab-row").first().locator("text").allTextContents();
    // [calc] D mixolydian on a G harp: 4 draw plain is A, 3 blow is D ...; every one with a letter.
    expect(tabs.length).toBeGreaterThan(0);
    expect(tabs.every((one) => /^\d+[BD]\/*$/.test(one))).toBe(true);
    await enterRoom(page, ROOM_KEYS.settings);
    for (const name of [
      "Look",
      "Notes, tab and harp",
      "Sound",
      "Plan of the day",
      "What is kept",
      "Keys and pedals",
    ])
      await group(name)
        .getByRole("button", { name: /^As it was at first/ })
        .click();
    expect(await look(page)).toEqual(first);
    expect(complaints).toEqual([]);
  });

  test("at twice the size of text nothing is cut in any room, and axe finds nothing on either paper", async () => {
    const { page } = await open({ roomKey: ROOM_KEYS.settings });
    await page.getByLabel("200 %").check();
    for (const paper of ["light", "dark"]) {
      await page.getByLabel(paper, { exact: true }).check();
      expect(await axeViolations(page), paper).toEqual([]);
    }
    for (const [room, key] of Object.entries(ROOM_KEYS)) {
      await enterRoom(page, key);
      if (room === "tunes") await page.locator(".tune-rows button.open").first().waitFor(PATIENT);
      expect(await cut(page), room).toEqual([]);
    }
    await enterRoom(page, ROOM_KEYS.drills);
    await page.getByRole("button", { name: "Practise this" }).click();
    await page.locator(".staff svg").first().waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    expect(await cut(page), "practice").toEqual([]);
  });
});
