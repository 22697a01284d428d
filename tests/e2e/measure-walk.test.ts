import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { harpInKey } from "../../core/instrument/harp.ts";
import { layoutFromRows } from "../../core/instrument/layout.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { agreedReading } from "../../core/workshop/measure/agreement.ts";
import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import { type WalkTone, walkSound } from "../support/walked-harp.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptRows, putRow } from "./kept.ts";

/** A harp of two holes: four reeds are walked in a quarter of a minute. C4 E4 above, D4 G4 below. */
const layout = layoutFromRows("two-holes", "two holes", { blow: [0, 4], draw: [2, 7] });
const harp = harpInKey(layout, "C");
/** [calc] MIDI numbers of those notes, and how far each reed is made to lie off, in cents. */
const REEDS: readonly (readonly [name: string, midi: number, cents: number])[] = [
  ["1 blow", 60, 4.3],
  ["1 draw", 62, -11.7],
  ["2 blow", 64, 0.6],
  ["2 draw", 67, 8.2],
];

const tone = (midi: number, cents: number, seconds = 0.55): WalkTone => ({
  hz: 440 * 2 ** ((midi + cents / 100 - 69) / 12),
  seconds,
  restSeconds: 0.3,
});

let folder = "";
let wavPath = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-walk-"));
  wavPath = path.join(folder, "walk.wav");
  const walk = REEDS.flatMap(([name, midi, cents]) => {
    const once = tone(midi, cents);
    // On the way to 2 blow the wrong breath: it does not count.
    return name === "2 blow" ? [tone(67, 8.2), once, once, once] : [once, once, once];
  });
  // The fake microphone plays from the moment it is opened: the first seconds go by until the walk listens.
  const lead = { ...tone(60, 0, 0.01), restSeconds: 3 };
  writeFileSync(
    wavPath,
    writeWav(walkSound([lead, ...walk], { rateHz: 48_000, seed: 8, snrDb: 45 }), 48_000, "pcm16"),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const { open } = oneBrowserEach();

async function toMeasuring(page: Page): Promise<void> {
  await putRow(page, "harps", { id: "harp-1", harp, note: "two holes" });
  await page.reload();
  await enterRoom(page, ROOM_KEYS.workshop);
  await page.getByRole("button", { name: "Measure the reeds" }).click();
  await page.getByRole("button", { name: "Walk along the reeds" }).waitFor();
}

const centsOf = (kept: KeptMeasurement, name: string): number => {
  const reed = kept.reeds.find(({ hole, breath }) => `${hole} ${breath}` === name);
  const midi = REEDS.find(([one]) => one === name)?.[1] ?? Number.NaN;
  return 100 * ((agreedReading(reed?.readings ?? [])?.midi ?? Number.NaN) - midi);
};

describe.skipIf(chromiumPath === null)(`measuring reeds in a real browser${whyNoBrowser}`, () => {
  test("a harp is walked hands-free, and what is kept agrees with how its reeds were made", async () => {
    const { page, complaints } = await open({ wavPath });
    await toMeasuring(page);
    await page.getByRole("button", { name: "Walk along the reeds" }).click();
    await page.getByText("All reeds done").waitFor({ timeout: 40_000 });
    await page.keyboard.press("Space");
    await page.getByText("4 of 4 reeds measured.").waitFor();
    const [kept] = (await keptRows(page, "measurements")) as unknown as KeptMeasurement[];
    expect(kept).toMatchObject({ finished: true, source: "microphone", harpId: "harp-1" });
    // The browser puts silent buffers into its fake device's sound now and then, which costs a note, not the reed's pitch.
    for (const [name, , cents] of REEDS)
      expect(Math.abs(centsOf(kept as KeptMeasurement, name) - cents), name).toBeLessThan(0.3);
    await page.getByRole("button", { name: "Take these offsets off in marks" }).click();
    await page.getByRole("button", { name: /Marks take these offsets off/ }).waitFor();
    const [owned] = (await keptRows(page, "harps")) as unknown as {
      harp: { reedOffsets: { blow: number }[] };
    }[];
    expect(Math.abs(Number(owned?.harp.reedOffsets[0]?.blow) - 4.3)).toBeLessThan(0.3);
    // The file plays from its beginning again, single notes of half a second: nothing to tell beats by, and nothing is told.
    await page.getByRole("button", { name: "Hear both 1 and 2 blow" }).click();
    await page.getByText(/^Not sure: too short/).waitFor({ timeout: 20_000 });
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  }, 60_000);

  test("a recording of the walk gives the same, with no microphone", async () => {
    const { page, complaints } = await open({ allowMicrophone: false });
    await toMeasuring(page);
    await page.getByRole("button", { name: "Walk along the reeds" }).click();
    await page.getByText(/The microphone is not allowed/).waitFor();
    await page.keyboard.press("Escape");
    await page.getByLabel("Recording of the walk").setInputFiles(wavPath);
    await page.getByText("4 of 4 reeds measured.").waitFor({ timeout: 20_000 });
    const kept = ((await keptRows(page, "measurements")) as unknown as KeptMeasurement[]).find(
      ({ source }) => source === "recording",
    );
    for (const [name, , cents] of REEDS)
      expect(Math.abs(centsOf(kept as KeptMeasurement, name) - cents), name).toBeLessThan(0.2);
    expect(complaints).toEqual([]);
  }, 60_000);
});
