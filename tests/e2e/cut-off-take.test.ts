import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { bpm } from "../../core/units.ts";
import { score } from "../../electron/commands/score.ts";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import type { RunningRow } from "../../renderer/store/rows.ts";
import { exerciseOf } from "../support/drills.ts";
import { differencesBeyond } from "../support/number-differences.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, serveApp, whyNoBrowser } from "./browser.ts";
import { keptAttempts, keptRows, keptTake } from "./kept.ts";
import { KillableBrowser } from "./killable-browser.ts";
import { microphoneTake } from "./takes.ts";

/** So slow that the drill is far from its end when it is cut off, and a busy machine may take ten seconds over it. */
const TEMPO_BPM = 45;
const exercise = exerciseOf({ tempo: { bpm: bpm(TEMPO_BPM), noteValue: "1/4" } });
const killable = new KillableBrowser();
const PATIENT = { timeout: 60_000 };
let server: LoopbackServer;

beforeAll(async () => {
  if (chromiumPath !== null) server = await serveApp();
});
// A browser left over from a test that failed would hold the profile against the next one's.
afterEach(() => killable.kill());
afterAll(async () => {
  await server?.close();
  await killable.clearAway();
});

const offer = (page: Page) => page.getByRole("complementary", { name: "A take that was cut off" });

/** How many rows a table has; samples need not come over for it. */
const count = (page: Page, table: string) =>
  page.evaluate(async (name) => {
    const settled = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await settled(indexedDB.open("reedpath"));
    const rows = await settled(database.transaction(name).objectStore(name).count());
    database.close();
    return rows;
  }, table);

/** The pieces of the one running take on end, to the bit. */
async function recordedSamples(page: Page): Promise<Float32Array> {
  const base64 = await page.evaluate(async () => {
    const settled = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await settled(indexedDB.open("reedpath"));
    const rows: { samples: Float32Array }[] = await settled(
      database.transaction("takePieces").objectStore("takePieces").getAll(),
    );
    database.close();
    let text = "";
    for (const { samples } of rows) {
      const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
      for (let at = 0; at < bytes.length; at += 8192)
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
    }
    return btoa(text);
  });
  return new Float32Array(Uint8Array.from(Buffer.from(base64, "base64")).buffer);
}

/** Plays the drill until so many pieces are on the disk. */
async function playUntil(page: Page, pieces: number): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.getByLabel("Tempo").first().fill(String(TEMPO_BPM));
  await page.getByRole("button", { name: "Practise this" }).click();
  await page.getByRole("button", { name: /Start/ }).waitFor();
  await page.keyboard.press("Space");
  await expect.poll(() => count(page, "takePieces"), PATIENT).toBeGreaterThanOrEqual(pieces);
}

describe.skipIf(chromiumPath === null)(`a browser killed in the middle of a take${whyNoBrowser}`, () => {
  test("offers what was recorded, to no window while another records it, and marks it as the headless command does", async () => {
    const { wavPath } = microphoneTake(exercise, 61, true);
    const first = await killable.start(server.url, { wavPath });
    await playUntil(first.page, 6);
    // Another window of the same browser, beside the one that records.
    const beside = await first.page.context().newPage();
    await beside.goto(server.url);
    await enterRoom(beside, ROOM_KEYS.settings);
    await enterRoom(beside, ROOM_KEYS.drills);
    expect(await count(beside, "runningTakes")).toBe(1);
    expect(await offer(beside).count()).toBe(0);
    await killable.kill();

    const { page } = await killable.start(server.url);
    await offer(page)
      .getByText(/^A take of “.*”, .*, was cut off after \d+ s; what was recorded of it is here\.$/)
      .waitFor(PATIENT);
    expect(await axeViolations(page)).toEqual([]);
    const [row] = (await keptRows(page, "runningTakes")) as RunningRow[];
    if (row === undefined) throw new Error("no take is running");
    const recorded = await recordedSamples(page);
    expect(recorded).toHaveLength(row.samples);
    await offer(page).getByRole("button", { name: "Mark it" }).press("Enter");
    await page
      .locator(".one-sentence")
      .filter({ hasText: /notes right/ })
      .waitFor(PATIENT);
    await page.getByText("Kept in the history.").waitFor();
    expect(await count(page, "runningTakes")).toBe(0);
    expect(await count(page, "takePieces")).toBe(0);
    const take = await keptTake(page);
    expect(take.samples).toHaveLength(row.samples);
    // [calc] six pieces of two seconds at the least
    expect(take.samples.length).toBeGreaterThanOrEqual(12 * row.sampleRateHz);
    const [kept] = await keptAttempts(page);
    const headless = await scoredHeadless(row, recorded);
    // Of a cent, a millisecond or a second: far below what is shown or heard.
    const MILLIONTH = 1e-6;
    expect(differencesBeyond(MILLIONTH, kept?.attempt, headless)).toEqual([]);
    // [calc] The drill lasts 25.3 s with its count-in; what comes later was not missed.
    const last = kept?.attempt.marks.at(-1);
    expect(last).toMatchObject({ verdict: "not measured", reason: "the recording ends before this note" });
    expect(kept?.attempt.summary.notes.hit).toBeGreaterThan(1);
  });

  test("forgets it where it is thrown away, and offers nothing of what was stopped by hand", async () => {
    const { wavPath } = microphoneTake(exercise, 62, false);
    const first = await killable.start(server.url, { wavPath });
    // [calc] the count-in lasts 5.3 s; without a note nothing would be offered
    await playUntil(first.page, 5);
    await killable.kill();
    const again = await killable.start(server.url, { wavPath });
    await offer(again.page).getByRole("button", { name: "Throw it away" }).click(PATIENT);
    await offer(again.page).waitFor({ state: "detached" });
    expect(await count(again.page, "takePieces")).toBe(0);
    await playUntil(again.page, 2);
    await again.page.keyboard.press("Escape");
    await expect.poll(() => count(again.page, "runningTakes"), PATIENT).toBe(0);
    expect(await count(again.page, "takePieces")).toBe(0);
  });
});

/** Marks of the same samples by the command, told where beat 0 lies. */
async function scoredHeadless(
  { exercise: asked, beatZeroSeconds, latencyMs, sampleRateHz }: RunningRow,
  samples: Float32Array,
): Promise<Attempt> {
  const folder = mkdtempSync(path.join(tmpdir(), "reedpath-"));
  const [exerciseFile, takeFile] = [path.join(folder, "asked.json"), path.join(folder, "take.wav")];
  writeFileSync(exerciseFile, JSON.stringify(asked));
  writeFileSync(takeFile, writeWav(samples, sampleRateHz, "float32"));
  const said: string[] = [];
  const io = { stdout: (text: string) => void said.push(text), stderr: () => {} };
  const options = ["--start-seconds", String(beatZeroSeconds), "--latency-ms", String(latencyMs)];
  await score([exerciseFile, takeFile, ...options], io as never);
  return JSON.parse(said.join(""));
}
