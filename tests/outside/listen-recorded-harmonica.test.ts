import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { readWav } from "../../core/listen/wav.ts";
import { missingForFluidsynth, playRecordedHarmonica } from "./fluidsynth.ts";
import type { MidiNote } from "./midi-bytes.ts";
import { medianHz, praatPitch } from "./praat.ts";
import { hasTool } from "./tools.ts";

/** A scale of recorded harmonica notes (General MIDI program 22), two notes a beat, made by FluidSynth. */
const SCALE = [60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79, 81, 83, 84, 83, 81, 79, 76, 72, 67, 64, 60];

const missing = [...missingForFluidsynth, ...(hasTool("praat") ? [] : ["praat"])];
const because = missing.length === 0 ? "" : ` (not installed: ${missing.join(", ")})`;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "listen-harmonica-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(bpm: number): MidiNote[] {
  const seconds = 60 / bpm / 2;
  return SCALE.map((key, i) => ({
    key,
    onSeconds: 1 + i * seconds,
    offSeconds: 1 + (i + 1) * seconds - 0.005,
  }));
}

function hear(file: string) {
  const wav = readWav(readFileSync(file));
  if (wav.kind !== "take") throw new Error(wav.reason);
  return listenToTake(wav.samples, wav.sampleRateHz).notes;
}

const middleOf = (values: readonly number[]) =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

describe.skipIf(missing.length > 0)(`a scale on a recorded harmonica${because}`, () => {
  it.each([90, 180])(
    "at %d beats a minute gives one note for each written one, in time and in tune",
    (bpm) => {
      const notes = written(bpm);
      const file = playRecordedHarmonica(folder, String(bpm), notes);
      const heard = hear(file);
      expect(heard.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual(SCALE);

      // A sampled attack needs its own time to speak; what is left after the middle delay has to be small. 25 ms: half
      // the window in which mir_eval counts an onset as right.
      const delays = heard.map(({ onSeconds }, i) => onSeconds - (notes[i] as MidiNote).onSeconds);
      const usual = middleOf(delays);
      expect(Math.abs(usual)).toBeLessThan(0.03);
      for (const delay of delays) expect(Math.abs(delay - usual)).toBeLessThan(0.025);

      // [X] Praat 6.3.07 over the same settled part, half a Praat window (14 ms) away from the next note. 2 cents is what
      // the best ears notice; the samples themselves waver a little.
      const praat = praatPitch(file);
      heard.forEach(({ pitchMidi, offSeconds, settledSeconds }, i) => {
        const praatHz = medianHz(praat, offSeconds - settledSeconds, offSeconds - 0.014);
        const praatMidi = 69 + 12 * Math.log2(praatHz / 440);
        expect(Math.abs(100 * ((pitchMidi ?? 0) - praatMidi)), `note ${i}`).toBeLessThan(2);
      });
    },
  );
});
