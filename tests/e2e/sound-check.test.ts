import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keptSettings } from "./kept.ts";
import { plug, pretendDevices, returnSound } from "./pretend-sound.ts";

const { open } = oneBrowserForAll();

/** A busy machine may take its time. */
const PATIENT = { timeout: 60_000 };

const line = (page: Page, name: string) => page.locator(".line", { hasText: new RegExp(`^.${name}`) });
const button = (page: Page, name: string) => page.getByRole("button", { name });

async function openRoom(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.soundCheck);
  await button(page, "Open the microphone").waitFor(PATIENT);
}

describe.skipIf(chromiumPath === null)(`the sound check in a real browser${whyNoBrowser}`, () => {
  test.each([
    [0.0437, "light"],
    [0.2313, "dark"],
  ] as const)(
    "finds a delay of %d s within 2 ms, keeps it and takes it off",
    async (delaySeconds, colorScheme) => {
      const { page, complaints } = await open({ colorScheme });
      await returnSound(page, delaySeconds, 0.1);
      await openRoom(page);
      await button(page, "Measure by loudspeaker").click();
      await page.getByLabel("Measuring the delay").waitFor(PATIENT);
      if (colorScheme === "dark") expect(await axeViolations(page)).toEqual([]);
      const found = line(page, "Delay").getByText(/measured by loudspeaker, is taken off/);
      await found.waitFor(PATIENT);
      const delays = (await keptSettings(page))?.measuredDelays ?? [];
      expect(delays).toHaveLength(1);
      const [measured] = delays;
      // The line between loudspeaker and microphone is exact; 2 ms is what the issue allows.
      expect(Math.abs((measured?.delayMs ?? 0) - 1000 * delaySeconds)).toBeLessThan(2);
      expect(measured?.spreadMs).toBeLessThan(5); // [P] more is no one delay
      if (colorScheme === "light") expect(await axeViolations(page)).toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  test("says it did not hear the bursts, plays louder only when asked, and can be stopped by a key", async () => {
    const { page } = await open();
    await returnSound(page, 0.05, 0.0001);
    await openRoom(page);
    await button(page, "Measure by loudspeaker").click();
    await page.getByText(/^The bursts were not heard\. .*louder\.$/).waitFor(PATIENT);
    await line(page, "Delay")
      .getByText(/^Not measured/)
      .waitFor();
    await button(page, "Louder, and again").click();
    await page.getByLabel("Measuring the delay").waitFor(PATIENT);
    await page.keyboard.press("Escape");
    await button(page, "Louder, and again").waitFor(PATIENT);
    expect(await keptSettings(page)).toBeNull();
  });

  test("tells a microphone that is not allowed, none, silence, a note, clipping and one unplugged apart", async () => {
    const { page, complaints } = await open();
    await pretendDevices(page);
    await openRoom(page);
    const refuse = (error: string | null) =>
      page.evaluate((error) => {
        globalThis.pretendSound.refuses = error;
      }, error);
    await refuse("NotAllowedError");
    await page.keyboard.press("Space");
    await page.getByText(/^The microphone is not allowed\. Allow it/).waitFor(PATIENT);
    await refuse("NotFoundError");
    await page.keyboard.press("Space");
    await page.getByText(/^No microphone was found\. Plug one in/).waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await refuse(null);
    await page.keyboard.press("Space");
    await line(page, "Level")
      .getByText(/^No sound at all\./)
      .waitFor(PATIENT);
    const loudness = (gain: number) =>
      page.evaluate((gain) => globalThis.pretendSound.gain?.gain.setValueAtTime(gain, 0), gain);
    await loudness(0.1);
    await line(page, "Level")
      .getByText(/^Notes come in at −2\d dBFS\.$/)
      .waitFor(PATIENT);
    await loudness(4);
    await line(page, "Level")
      .getByText(/^Clipping\./)
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await page.evaluate(() => globalThis.pretendSound.track?.dispatchEvent(new Event("ended")));
    await page.getByText(/^The microphone was unplugged or switched off\./).waitFor(PATIENT);
    await button(page, "Open the microphone").waitFor();
    expect(complaints).toEqual([]);
  });

  test("remembers a chosen microphone, does without it while it is away, and takes it again", async () => {
    const { page, complaints } = await open();
    await pretendDevices(page);
    await page.evaluate(() => {
      globalThis.pretendSound.loudness = 0.1;
    });
    await openRoom(page);
    await page.getByLabel("Microphone", { exact: true }).selectOption("Headset");
    await button(page, "Open the microphone").click();
    await line(page, "Device").getByText("Headset is open.").waitFor(PATIENT);
    expect(await page.evaluate(() => globalThis.pretendSound.asked)).toEqual(["mark of Headset"]);
    await plug(page, "Desk microphone", "Loudspeaker");
    await page.reload();
    await page.evaluate(() => {
      globalThis.pretendSound.loudness = 0.1;
    });
    await openRoom(page);
    await button(page, "Open the microphone").click();
    await line(page, "Device")
      .getByText(/^Headset is not there; Desk microphone is used/)
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    await plug(page, "Desk microphone", "Headset", "Loudspeaker");
    await line(page, "Device").getByText("Headset is open.").waitFor(PATIENT);
    expect(complaints).toEqual([]);
  });
});
