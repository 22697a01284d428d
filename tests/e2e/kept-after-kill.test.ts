import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import { exerciseOf } from "../support/drills.ts";
import { chromiumPath, enterRoom, ROOM_KEYS, serveApp, whyNoBrowser } from "./browser.ts";
import { keptAttempts } from "./kept.ts";
import { KillableBrowser } from "./killable-browser.ts";
import { microphoneTake, runMs } from "./takes.ts";

const exercise = exerciseOf();
const browser = new KillableBrowser();
let server: LoopbackServer;

beforeAll(async () => {
  if (chromiumPath !== null) server = await serveApp();
});
afterAll(async () => {
  await server?.close();
  await browser.clearAway();
});

async function startBrowser(wavPath?: string) {
  const started = await browser.start(server.url, wavPath === undefined ? {} : { wavPath });
  await enterRoom(started.page, ROOM_KEYS.drills);
  await started.page.getByRole("button", { name: "Practise this" }).waitFor();
  return started;
}

describe.skipIf(chromiumPath === null)(`a browser killed right after the marks appear${whyNoBrowser}`, () => {
  test("has the attempt, its marks and its take when it is opened again", async () => {
    const take = microphoneTake(exercise, 61, true);
    const first = await startBrowser(take.wavPath);
    await first.page.keyboard.press("Enter");
    await first.page.keyboard.press("Space");
    // The page itself reads the sentence in the very frame it appears in; then the browser dies.
    const marked = await first.page
      .waitForFunction(
        () =>
          /\d+ of \d+ notes right.*/.exec(document.querySelector(".one-sentence")?.textContent ?? "")?.[0],
        null,
        {
          timeout: runMs(exercise),
        },
      )
      .then((found) => found.jsonValue());
    await browser.kill();

    const again = await startBrowser();
    await again.page.getByRole("button", { name: "Progress" }).click();
    await again.page.getByRole("button", { name: "Attempts", exact: true }).click();
    await again.page.getByRole("button", { name: exercise.title, exact: true }).click();
    await again.page.getByText(String(marked)).waitFor();
    const [entry] = await keptAttempts(again.page);
    expect(entry?.attempt.marks).toHaveLength(exercise.notes.length);
    // [calc] count-in and fifteen beats at 90 a minute: 12.7 s of sound and more
    expect(entry?.takeSamples).toBeGreaterThan(12 * 44_100);
    expect(entry?.peak).toBeGreaterThan(0.05);
    await browser.kill();
  });
});
