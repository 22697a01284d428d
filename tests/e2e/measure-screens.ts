import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { writeWav } from "../../core/listen/wav.ts";
import { walkSound } from "../support/walked-harp.ts";
import { enterRoom, ROOM_KEYS } from "./browser.ts";

/** Measuring the reeds: nothing yet, the walk, and what a recording gave, one reed of it failing. */
export async function measuring(page: Page, visit: (screen: string) => Promise<void>): Promise<void> {
  await enterRoom(page, ROOM_KEYS.instrument);
  await page.getByRole("button", { name: "My harps" }).click();
  await page.getByRole("button", { name: "Add a harp" }).click();
  await page.getByLabel("Note", { exact: true }).fill("measured");
  await page.getByRole("button", { name: "Keep this harp" }).click();
  await enterRoom(page, ROOM_KEYS.workshop);
  await page.getByRole("button", { name: "Measure the reeds" }).click();
  await page.getByLabel("Harp", { exact: true }).selectOption({ label: "G harp: measured" });
  await page.getByText("Nothing measured yet.").waitFor();
  await visit("measuring-first");
  await page.getByRole("button", { name: "Walk along the reeds" }).click();
  await page.locator(".reed-asked").waitFor();
  await visit("measuring-walk");
  await page.keyboard.press("Escape");
  await page.getByLabel("Recording of the walk").setInputFiles(recordedWalk());
  await page.getByText("7 of 20 reeds measured.").waitFor({ timeout: 30_000 });
  for (const fold of await page.locator(".workshop details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
  await visit("measuring-results");
}

/** [F1] Holes 1 to 4 of a standard G harp without 4 draw: G3 A3 B3 D4 D4 F#4 G4; 3 draw a semitone low. */
function recordedWalk(): string {
  const rateHz = 16_000;
  const notes = [55, 57, 59, 62.05, 61.98, 66 - 1.02, 67];
  const tones = notes.flatMap((midi) => {
    const tone = { hz: 440 * 2 ** ((midi - 69) / 12), seconds: 0.5, restSeconds: 0.2 };
    return [tone, tone, tone];
  });
  const file = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), "walk.wav");
  writeFileSync(file, writeWav(walkSound(tones, { rateHz, seed: 2, snrDb: 45 }), rateHz, "pcm16"));
  return file;
}
