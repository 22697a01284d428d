/**
 * Has the built window of whatever version this file is copied into practise a drill and a tune, and writes down everything its
 * database then holds, without loss. `tests/fixtures/kept/README.md` says how it is run.
 */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { brotliCompressSync } from "node:zlib";
import { chromium, type Page } from "playwright-core";
import { test } from "vitest";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { choosePlants } from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { bpm } from "../../core/units.ts";
import { exerciseOf } from "../support/drills.ts";
import { browserFlags, chromiumPath, serveApp } from "./browser.ts";

/** Fast, so that takes are short. */
const TEMPO_BPM = 200;
const PATIENT = { timeout: 60_000 };
const exercise = exerciseOf({ tempo: { bpm: bpm(TEMPO_BPM), noteValue: "1/4" } });
const folder = mkdtempSync(path.join(tmpdir(), "reedpath-kept-"));

/** A recording of the drill. @param loudness soft ones need less room */
function wav(name: string, seed: number, sampleRateHz: number, mistakes: boolean, loudness: number): string {
  const plants = mistakes ? choosePlants(exercise, seededRandom(seed)) : [];
  const { samples } = simulateTake(exercise, { seed, plants, sampleRateHz });
  const file = path.join(folder, name);
  writeFileSync(
    file,
    writeWav(
      samples.map((sample) => loudness * sample),
      sampleRateHz,
      "pcm16",
    ),
  );
  return file;
}

async function toDrill(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Drills", exact: true }).click();
  await page.getByLabel("Tempo").first().fill(String(TEMPO_BPM));
  await page.getByLabel("Tempo").first().press("Tab");
  await page.getByRole("button", { name: "Practise this" }).click();
}

async function kept(page: Page): Promise<void> {
  await page.getByText("Kept in the history").first().waitFor(PATIENT);
  await page.keyboard.press("Escape");
}

async function markRecording(page: Page, file: string): Promise<void> {
  await page.getByLabel("Recording to mark").setInputFiles(file);
  await kept(page);
}

async function playABeginning(page: Page): Promise<void> {
  await page.keyboard.press("Space");
  await page
    .getByText(/playing/)
    .first()
    .waitFor(PATIENT);
  await pause(500);
  await page.keyboard.press("Space");
  await kept(page);
}

async function toTuneRung(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Tunes", exact: true }).click();
  await page.locator(".tune-rows button.open").first().waitFor(PATIENT);
  await page.getByLabel(/Find/).fill("rakes");
  await page.locator(".tune-rows button.open").first().click();
  const main = page.locator("button.main").first();
  await main.filter({ hasText: "Listen" }).click(PATIENT);
  await main.filter({ hasText: "Practise this" }).click(PATIENT);
}

test("practises and writes down what the program kept", async () => {
  const server = await serveApp();
  const context = await chromium.launchPersistentContext(mkdtempSync(path.join(tmpdir(), "reedpath-kept-")), {
    executablePath: chromiumPath ?? "",
    args: browserFlags({ wavPath: wav("played.wav", 5, 44_100, false, 0.03) }),
  });
  const page = await context.newPage();
  await page.goto(server.url);
  await toDrill(page);
  await markRecording(page, wav("clean.wav", 1, 16_000, false, 0.06));
  await toDrill(page);
  await markRecording(page, wav("mistakes.wav", 2, 16_000, true, 0.06));
  await toDrill(page);
  await playABeginning(page);
  // Version 1 knew no tunes.
  if ((await page.getByRole("button", { name: "Tunes", exact: true }).count()) > 0) {
    await toTuneRung(page);
    await markRecording(page, wav("tune.wav", 3, 16_000, true, 0.02));
  }
  await pause(1500);
  writeFileSync(process.env.KEPT_OUT ?? "kept.json.br", brotliCompressSync(await everythingOf(page)));
  await context.close();
  await server.close();
}, 400_000);

/** Version, tables, keys, indexes and rows of the page's database as JSON; what JSON has no word for stands as `$…`. */
function everythingOf(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const settled = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const base64 = (bytes: Uint8Array) => {
      let text = "";
      for (let at = 0; at < bytes.length; at += 8192)
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
      return btoa(text);
    };
    /** First the first bytes of all numbers, then the second bytes: what is alike lies together. */
    const inPlanes = (view: Uint8Array) => {
      const bytes = new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
      const size = view.BYTES_PER_ELEMENT;
      const planes = new Uint8Array(bytes.length);
      bytes.forEach((byte, i) => {
        planes[(i % size) * (bytes.length / size) + Math.floor(i / size)] = byte;
      });
      return { $array: view.constructor.name, planes: base64(planes) };
    };
    const put = (value: unknown): unknown => {
      if (ArrayBuffer.isView(value)) return inPlanes(value as Uint8Array);
      if (Array.isArray(value)) return value.map(put);
      if (Object.is(value, -0)) return { $number: "-0" };
      if (typeof value === "number" && !Number.isFinite(value)) return { $number: String(value) };
      if (typeof value !== "object" || value === null) return value;
      return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, put(part)]));
    };
    const database = await settled(indexedDB.open("reedpath"));
    const tables: Record<string, unknown> = {};
    for (const name of database.objectStoreNames) {
      const table = database.transaction(name).objectStore(name);
      const { keyPath, autoIncrement } = table;
      const rows = await settled(table.getAll());
      const indexes = [...table.indexNames].map((index) => {
        const { keyPath: parts, unique, multiEntry } = table.index(index);
        return { name: index, keyPath: parts, unique, multiEntry };
      });
      tables[name] = { keyPath, autoIncrement, indexes, rows: rows.map(put) };
    }
    return JSON.stringify({ version: database.version, tables });
  });
}
