import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import type { HeardNote } from "../../core/listen/listening.ts";
import { readWav, writeWav } from "../../core/listen/wav.ts";
import { noise, type Tone, take } from "../core/listen/signals.ts";
import { medianHz, praatPitch } from "./praat.ts";
import { hasTool } from "./tools.ts";

const RATE = 48_000;
/** C3, the lowest reed of a low set, to G7, the highest of a high one, and between. */
const PITCHES_HZ = [130.8, 146.1, 233.7, 392.4, 587.9, 880.3, 1318.2, 1975, 3136];
/** A tune with steps, leaps, an octave and a repeated note, 200 ms each. */
const TUNE = [67, 69, 71, 79, 79, 74, 62, 76, 83, 86];
const NOTE_SECONDS = 0.2;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "listen-pitch-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** One file for all three: ours, Praat's and aubio's ear get the same bytes. */
function write(name: string, samples: Float32Array): string {
  const file = path.join(folder, `${name}.wav`);
  writeFileSync(file, writeWav(samples, RATE, "pcm16"));
  return file;
}

/** One reed-like tone, 1 s from 0.3 s on. */
const writeTone = (hz: number) =>
  write(String(hz), take(RATE, 1.6, [{ onSeconds: 0.3, offSeconds: 1.3, hz, dbfs: -20 }]));

/** The tune in a room 20 dB below it. */
function writeTune(): string {
  const samples = take(RATE, tuneTones().at(-1)?.offSeconds ?? 0, tuneTones());
  const room = noise(samples.length, 10 ** (-40 / 20), 7);
  return write(
    "tune",
    samples.map((value, i) => value + (room[i] ?? 0)),
  );
}

function tuneTones(): readonly Tone[] {
  return TUNE.map((midi, place) => ({
    onSeconds: 0.5 + place * NOTE_SECONDS,
    // A repeated note is stopped well before.
    offSeconds: 0.5 + (place + 1) * NOTE_SECONDS - (TUNE[place + 1] === midi ? 0.05 : 0.015),
    hz: 440 * 2 ** ((midi - 69) / 12),
    dbfs: -20,
  }));
}

function hear(file: string): readonly HeardNote[] {
  const wav = readWav(readFileSync(file));
  if (wav.kind !== "take") throw new Error(wav.reason);
  return listenToTake(wav.samples, wav.sampleRateHz).notes;
}

const hzOf = (note: HeardNote | undefined) => 440 * 2 ** (((note?.pitchMidi ?? Number.NaN) - 69) / 12);

function ourHz(file: string): number {
  const notes = hear(file);
  expect(notes).toHaveLength(1);
  return hzOf(notes[0]);
}

const cents = (a: number, b: number) => Math.abs(1200 * Math.log2(a / b));

const praat = hasTool("praat");
describe.skipIf(!praat)(`the same file as Praat hears it${praat ? "" : " (praat is not installed)"}`, () => {
  // [X] Praat 6.3, To Pitch (ac). 0.1 cent: Praat itself is good to a few hundredths on steady tones.
  it.each(PITCHES_HZ)("a tone of %d Hz", (hz) => {
    const file = writeTone(hz);
    expect(cents(ourHz(file), medianHz(praatPitch(file), 0.5, 1.1))).toBeLessThan(0.1);
  });

  // No higher than D6: a B6 of 200 ms in this noise Praat reads an octave off.
  it("a tune in a noisy room, note by note", () => {
    const file = writeTune();
    const notes = hear(file);
    expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual(TUNE);
    const frames = praatPitch(file);
    for (const [place, { onSeconds }] of tuneTones().entries()) {
      // Well inside the note, half of Praat's window (14 ms) from either end. [X] Praat 6.3: at 20 dB its median over 100 ms
      // wavers by a few tenths of a cent; a cent is half of what the best ears notice.
      const theirs = medianHz(frames, onSeconds + 0.05, onSeconds + NOTE_SECONDS - 0.065);
      expect(cents(hzOf(notes[place]), theirs), `note ${place}`).toBeLessThan(1);
    }
  });
});

/** What a program of aubio 0.4.9 prints, a row of numbers a line. */
function aubio(program: string, args: readonly string[]): readonly (readonly number[])[] {
  return execFileSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] })
    .trim()
    .split("\n")
    .map((line) => line.trim().split(/\s+/).map(Number));
}

const missing = ["aubiopitch", "aubioonset"].filter((tool) => !hasTool(tool));
const because = missing.length === 0 ? "" : ` (${missing.join(" and ")} not installed)`;
describe.skipIf(missing.length > 0)(`the same file as aubio hears it${because}`, () => {
  // [X] aubio 0.4.9, aubiopitch -p yinfast, 2048 samples. It reads between samples by a parabola: an error of 0.07 of a
  // sample is the bound, [calc] 5 cents at 1975 Hz, where the period is 24 samples.
  // (Its yinfft method reads these tones an octave low from A5 on, so it is no witness here.)
  it.each(PITCHES_HZ)("a tone of %d Hz", (hz) => {
    const file = writeTone(hz);
    const rows = aubio("aubiopitch", ["-i", file, "-r", "0", "-p", "yinfast", "-B", "2048", "-H", "240"]);
    const readings = rows
      .filter(([t, f]) => (t ?? 0) > 0.5 && (t ?? 0) < 1.1 && (f ?? 0) > 0)
      .map(([, f]) => f ?? 0)
      .sort((a, b) => a - b);
    expect(readings.length).toBeGreaterThan(50);
    const bound = Math.max(1, 1200 * Math.log2(1 + 0.07 / (RATE / hz)));
    expect(cents(ourHz(file), readings[readings.length >> 1] ?? Number.NaN)).toBeLessThan(bound);
  });

  it("a tune: each hears the onsets the other hears", () => {
    const file = writeTune();
    // [X] aubio 0.4.9, aubioonset -O specflux -t 0.1. It always begins with a 0 for the start of the file. Two hops of its
    // 256 samples are 11 ms [calc]; 15 leave room for our own frame.
    const args = ["-i", file, "-O", "specflux", "-t", "0.1", "-B", "1024", "-H", "256"];
    const theirs = aubio("aubioonset", args)
      .map(([t]) => t ?? 0)
      .filter((t) => t > 0);
    const ours = hear(file).map(({ onSeconds }) => onSeconds);
    expect(theirs).toHaveLength(TUNE.length);
    expect(ours).toHaveLength(TUNE.length);
    ours.forEach((onSeconds, place) => {
      expect(Math.abs(onSeconds - (theirs[place] ?? 0)), `note ${place}`).toBeLessThan(0.015);
    });
  });
});
