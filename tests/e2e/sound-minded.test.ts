import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptAttempts } from "./kept.ts";
import { microphonesOf, plug, pretendDevices, watchMicrophones } from "./pretend-sound.ts";

const { open } = oneBrowserForAll();
/** A busy machine may take its time. */
const PATIENT = { timeout: 60_000 };

const CLOSED = { live: 0, said: false };
const OPEN = { live: 1, said: true };

/** A sheet, with a reed sounding into the pretended microphone. */
async function openSheet(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.evaluate(() => {
    globalThis.pretendSound.loudness = 0.1;
  });
  await page.getByRole("button", { name: "Practise this" }).press("Enter");
  await page.getByRole("button", { name: /^Start/ }).waitFor(PATIENT);
}

async function play(page: Page): Promise<void> {
  await page.keyboard.press("Space");
  await page.locator(".beat-number").waitFor(PATIENT);
  expect(await microphonesOf(page)).toEqual(OPEN);
}

/** Something breaks into a running take: the sheet has the sentence, and the microphone is closed. */
async function breaksOff(page: Page, sentence: RegExp, how: () => Promise<unknown>): Promise<void> {
  await play(page);
  await how();
  await page.locator(".one-sentence").getByText(sentence).waitFor(PATIENT);
  await page.getByText("The microphone is closed.").waitFor(PATIENT);
  expect(await microphonesOf(page), String(sentence)).toEqual(CLOSED);
}

describe.skipIf(chromiumPath === null)(`what breaks into a take, in a real browser${whyNoBrowser}`, () => {
  test("ends it in a state with its name; the same key begins another, and what is whole can be marked", async () => {
    const { page, complaints } = await open();
    await pretendDevices(page);
    await watchMicrophones(page);
    await openSheet(page);
    await breaksOff(
      page,
      /^The microphone was unplugged or switched off\. Plug it in and start again\.$/,
      () =>
        page.evaluate(() => {
          const { track } = globalThis.pretendSound;
          track?.stop();
          track?.dispatchEvent(new Event("ended"));
        }),
    );
    await breaksOff(page, /^The system has muted the microphone\./, () =>
      page.evaluate(() => globalThis.pretendSound.track?.dispatchEvent(new Event("mute"))),
    );
    await breaksOff(page, /^Loudspeaker is no longer what you hear by\./, () =>
      plug(page, "Desk microphone", "Other loudspeaker"),
    );
    await breaksOff(
      page,
      /^The machine slept, or its clock was set ahead by 60 minutes\. Start again\.$/,
      () =>
        page.evaluate(() => {
          const now = Date.now.bind(Date);
          Date.now = () => now() + 3_600_000;
        }),
    );
    await breaksOff(page, /^The microphone changed from 48000 to 16000 samples a second\./, async () => {
      const rate = (sampleRate: number) =>
        page.evaluate((sampleRate) => {
          const { track } = globalThis.pretendSound;
          if (track === null) throw new Error("no track");
          const settings = track.getSettings();
          track.getSettings = () => ({ ...settings, sampleRate });
        }, sampleRate);
      await rate(48_000);
      await page.waitForTimeout(600); // two looks at it
      await rate(16_000);
    });
    // What browsers tell a page before they put it away; the tools' own freezing leaves a visible page as it is.
    await breaksOff(page, /^The system took the sound away for a while\./, () =>
      page.evaluate(() => document.dispatchEvent(new Event("freeze"))),
    );
    await breaksOff(page, /^The system took the sound away for a while\./, () =>
      page.evaluate(() => globalThis.pretendSound.context?.close()),
    );
    // A closed context has given way to another. A bar of the scale is played, then the sound stands still.
    await play(page);
    await page.getByText("playing", { exact: true }).waitFor(PATIENT);
    await page.waitForTimeout(2500);
    await page.evaluate(() => globalThis.pretendSound.context?.suspend());
    await page
      .locator(".one-sentence")
      .getByText(
        /took the sound away for a while\. Start again, or have the (note|\d notes) before that marked\.$/,
      )
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    expect(await keptAttempts(page)).toEqual([]);
    await page.keyboard.press("m");
    await page.getByText("Kept in the history.").waitFor(PATIENT);
    const [{ attempt } = { attempt: null }] = await keptAttempts(page);
    const verdicts = attempt?.marks.map(({ verdict }) => verdict) ?? [];
    // Nobody missed what the recording does not hold.
    expect(verdicts.at(-1)).toBe("not measured");
    expect(attempt?.summary.notes.missed).toBe(0);
    expect(await microphonesOf(page)).toEqual(CLOSED);
    expect(complaints).toEqual([]);
  });
});

/** Hides the window, or shows it again, as far as its page can tell. */
const hide = (page: Page, hidden: boolean) =>
  page.evaluate((hidden) => {
    Object.defineProperty(document, "visibilityState", {
      configurable: true,
      get: () => (hidden ? "hidden" : "visible"),
    });
    document.dispatchEvent(new Event("visibilitychange"));
  }, hidden);

const setWhenAway = async (page: Page, label: string) => {
  await enterRoom(page, ROOM_KEYS.settings);
  await page.getByLabel(label, { exact: true }).check();
};

describe.skipIf(chromiumPath === null)(`the microphone in a real browser${whyNoBrowser}`, () => {
  test("is open in every room only while the window says so, and closed by leaving it", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    await pretendDevices(page);
    await watchMicrophones(page);
    const leave = async (key: string) => {
      await enterRoom(page, key);
      await expect.poll(() => microphonesOf(page)).toEqual(CLOSED);
    };
    const steps = page.getByRole("region", { name: "First steps" });
    await steps.getByRole("button", { name: "This is my harp" }).click(PATIENT);
    expect(await microphonesOf(page)).toEqual(CLOSED);
    await steps.getByRole("button", { name: "Try the microphone" }).click();
    await steps.getByRole("button", { name: "Go on all the same" }).waitFor(PATIENT);
    expect(await microphonesOf(page)).toEqual(OPEN);
    await leave(ROOM_KEYS.soundCheck);
    await page.getByRole("button", { name: "Open the microphone" }).click(PATIENT);
    await page.getByText("Desk microphone is open.").waitFor(PATIENT);
    expect(await microphonesOf(page)).toEqual(OPEN);
    await leave(ROOM_KEYS.tunes);
    await openSheet(page);
    await play(page);
    await page.keyboard.press("Escape");
    // The sheet says that it stays open for the next take.
    await page.getByText("The microphone is open.").waitFor(PATIENT);
    expect(await microphonesOf(page)).toEqual(OPEN);
    await leave(ROOM_KEYS.instrument);
    for (const key of Object.values(ROOM_KEYS)) await leave(key);
    await enterRoom(page, ROOM_KEYS.workshop);
    await page.getByRole("button", { name: "Measure the reeds" }).click(PATIENT);
    await page.getByRole("button", { name: "Walk along the reeds" }).click(PATIENT);
    await page.getByRole("button", { name: /^Pause/ }).waitFor(PATIENT);
    expect(await microphonesOf(page)).toEqual(OPEN);
    await leave(ROOM_KEYS.progress);
    expect(complaints).toEqual([]);
  });

  test("leaves a sound that goes to sleep when nothing sounds or listens, and wakes for the next take", async () => {
    const { page, complaints } = await open();
    await pretendDevices(page);
    await watchMicrophones(page);
    await page.clock.install();
    const state = () => page.evaluate(() => globalThis.pretendSound.context?.state);
    await openSheet(page);
    await play(page);
    await page.keyboard.press("Escape");
    await page.getByText("The microphone is open.").waitFor(PATIENT);
    await enterRoom(page, ROOM_KEYS.drills);
    await expect.poll(() => microphonesOf(page)).toEqual(CLOSED);
    // What sounded is cleared up by the sound's own clock, which no test sets ahead.
    await page.waitForTimeout(5000);
    await page.clock.fastForward(25_000);
    await expect.poll(state).toBe("suspended");
    await openSheet(page);
    await play(page);
    expect(await state()).toBe("running");
    await page.getByText("playing", { exact: true }).waitFor(PATIENT);
    expect(complaints).toEqual([]);
  });

  test("closes when the window is hidden or goes behind another, as the player has set", async () => {
    const { page, complaints } = await open();
    await pretendDevices(page);
    await watchMicrophones(page);
    await openSheet(page);
    await breaksOff(page, /^The microphone was closed as this window was hidden\. Start again\.$/, () =>
      hide(page, true),
    );
    await page.keyboard.press("Space");
    await page
      .locator(".one-sentence")
      .getByText(/stays closed while this window is hidden/)
      .waitFor(PATIENT);
    expect(await microphonesOf(page)).toEqual(CLOSED);
    await hide(page, false);
    await setWhenAway(page, "closes when another window is in front");
    await openSheet(page);
    await breaksOff(page, /closed as this window was behind another window\./, () =>
      page.evaluate(() => {
        document.hasFocus = () => false;
        window.dispatchEvent(new Event("blur"));
      }),
    );
    await page.evaluate(() => {
      document.hasFocus = () => true;
    });
    await setWhenAway(page, "stays open");
    await openSheet(page);
    await play(page);
    await hide(page, true);
    await page.waitForTimeout(600);
    expect((await microphonesOf(page)).live).toBe(1);
    await page.locator(".beat-number").waitFor();
    expect(complaints).toEqual([]);
  });
});
