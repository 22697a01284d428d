import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { readWav, writeWav } from "../../core/listen/wav.ts";
import { take } from "../core/listen/signals.ts";
import { medianHz, praatPitch } from "./praat.ts";
import { hasTool } from "./tools.ts";

/** One reed-like tone, 1 s from 0.3 s on, in a WAV file; ours, Praat's and aubio's ear on the same bytes. */
const RATE = 48_000;
const PITCHES_HZ = [146.1, 233.7, 392.4, 587.9, 880.3, 1318.2, 1975];

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "listen-pitch-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function writeTone(hz: number): string {
  const samples = take(RATE, 1.6, [{ onSeconds: 0.3, offSeconds: 1.3, hz, dbfs: -20 }]);
  const file = path.join(folder, `${hz}.wav`);
  writeFileSync(file, writeWav(samples, RATE, "pcm16"));
  return file;
}

function ourHz(hz: number): number {
  const bytes = writeWav(
    take(RATE, 1.6, [{ onSeconds: 0.3, offSeconds: 1.3, hz, dbfs: -20 }]),
    RATE,
    "pcm16",
  );
  const wav = readWav(bytes);
  if (wav.kind !== "take") throw new Error(wav.reason);
  const { notes } = listenToTake(wav.samples, wav.sampleRateHz);
  expect(notes).toHaveLength(1);
  return 440 * 2 ** (((notes[0]?.pitchMidi ?? 0) - 69) / 12);
}

const cents = (a: number, b: number) => Math.abs(1200 * Math.log2(a / b));

const praat = hasTool("praat");
describe.skipIf(!praat)(`the same tone as Praat hears it${praat ? "" : " (praat is not installed)"}`, () => {
  // [X] Praat 6.3, To Pitch (ac). 0.1 cent: Praat itself is good to a few hundredths on steady tones.
  it.each(PITCHES_HZ)("%d Hz", (hz) => {
    expect(cents(ourHz(hz), medianHz(praatPitch(writeTone(hz)), 0.5, 1.1))).toBeLessThan(0.1);
  });
});

const aubio = hasTool("aubiopitch");
describe.skipIf(!aubio)(
  `the same tone as aubio hears it${aubio ? "" : " (aubiopitch is not installed)"}`,
  () => {
    // [X] aubio 0.4.9, aubiopitch -p yinfast, 2048 samples. It reads between samples by a parabola:
    // [calc] at 1975 Hz the period is 24 samples, and an error of 0.05 of one is 1200 log2(1.0021) = 3.6 cents; 5 is the bound.
    // (Its yinfft method reads these tones an octave low from A5 on, so it is no witness here.)
    it.each(PITCHES_HZ)("%d Hz", (hz) => {
      const args = ["-i", writeTone(hz), "-r", "0", "-p", "yinfast", "-B", "2048", "-H", "240"];
      const readings = execFileSync("aubiopitch", args, {
        encoding: "utf8",
        stdio: ["ignore", "pipe", "ignore"],
      })
        .trim()
        .split("\n")
        .map((line) => line.trim().split(/\s+/).map(Number))
        .filter(([t, f]) => (t ?? 0) > 0.5 && (t ?? 0) < 1.1 && (f ?? 0) > 0)
        .map(([, f]) => f as number)
        .sort((a, b) => a - b);
      expect(readings.length).toBeGreaterThan(50);
      expect(cents(ourHz(hz), readings[readings.length >> 1] as number)).toBeLessThan(5);
    });
  },
);
