import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Browser, Page } from "playwright-core";
import { build } from "vite";
import { writeWav } from "../../core/listen/wav.ts";
import { type LoopbackServer, serve } from "../../electron/loopback-server.ts";
import { type BrowserOptions, launchBrowser, openPage, type WatchedPage } from "./browser.ts";

/** The audio room on a page of its own: built as the window is, served under the same content policy. */
export interface AudioRoom {
  /** The page, opened afresh in a browser of that kind; what it should not have done is in `complaints`. */
  open(options?: BrowserOptions): Promise<WatchedPage>;
  /** Writes a recording for the fake microphone. */
  keepWav(name: string, samples: Float32Array, sampleRateHz: number): Promise<string>;
  /** Ends the page opened last; its browser waits for the next of its kind. */
  closePage(): Promise<void>;
  close(): Promise<void>;
}

export async function buildAudioRoom(): Promise<AudioRoom> {
  const folder = await mkdtemp(path.join(tmpdir(), "reedpath-audio-"));
  const root = path.join(folder, "page");
  await build({
    configFile: path.join(import.meta.dirname, "..", "..", "vite.config.ts"),
    mode: "renderer",
    root: path.join(import.meta.dirname, "audio-page"),
    logLevel: "silent",
    build: { outDir: root },
  });
  const server: LoopbackServer = await serve({ root, port: 0 });
  let browser: { readonly kind: string; readonly itself: Browser } | null = null;
  let opened: WatchedPage | null = null;
  const closePage = async () => {
    await opened?.context.close();
    opened = null;
  };
  const browserFor = async (options: BrowserOptions) => {
    const kind = JSON.stringify(options);
    if (browser?.kind === kind) return browser.itself;
    await browser?.itself.close();
    browser = { kind, itself: await launchBrowser(options) };
    return browser.itself;
  };
  return {
    async open(options = {}) {
      await closePage();
      opened = await openPage(await browserFor(options), server.url, { roomKey: null });
      await opened.page.waitForFunction(() => "audioRoom" in globalThis);
      return opened;
    },
    async keepWav(name, samples, sampleRateHz) {
      const wavPath = path.join(folder, name);
      await writeFile(wavPath, writeWav(samples, sampleRateHz, "pcm16"));
      return wavPath;
    },
    closePage,
    async close() {
      await closePage();
      await browser?.itself.close();
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Samples that came out of the page as base64. */
export function samplesOf(base64: string): Float32Array {
  const bytes = Uint8Array.from(Buffer.from(base64, "base64"));
  return new Float32Array(bytes.buffer);
}

/** The context's rate of a page that has not made one yet, as if the sound card ran at it. */
export async function runCardAt(page: Page, sampleRateHz: number): Promise<void> {
  await page.evaluate((rate) => {
    const Native = AudioContext;
    globalThis.AudioContext = class extends Native {
      constructor() {
        super({ sampleRate: rate });
      }
    };
  }, sampleRateHz);
}

export function peakOf(samples: Float32Array): number {
  return samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0);
}

export function medianOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
