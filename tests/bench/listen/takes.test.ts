import { expect, it } from "vitest";
import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { bendMidi } from "./corpus/bend-midi.ts";
import { convolved } from "./corpus/convolve.ts";
import { type Recipe, recipes } from "./corpus/recipes.ts";
import { syntheticTake } from "./corpus/synthetic-take.ts";
import { midiHz, SAMPLE_RATE_HZ } from "./corpus/truth.ts";
import { rootMeanSquare } from "./measures/statistics.ts";

function recipe(name: string, seed = 1000): Recipe {
  const found = recipes(seed).find((one) => one.name === name);
  if (found === undefined) throw new Error(`no take ${name}`);
  return found;
}

/** A take of its first notes only: enough to measure, and soon made. */
const opening = (name: string, count: number, changes: Partial<Recipe> = {}) => {
  const full = recipe(name);
  return syntheticTake({ ...full, notes: full.notes.slice(0, count), ...changes });
};

const part = (samples: Float64Array, from: number, to: number) =>
  Array.from(samples.subarray(Math.round(from * SAMPLE_RATE_HZ), Math.round(to * SAMPLE_RATE_HZ)));
const decibels = (samples: readonly number[]) => 20 * Math.log10(rootMeanSquare(samples));

it("every take has a name and a seed of its own", () => {
  const all = recipes(7);
  expect(all.length).toBeGreaterThan(40);
  expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
  expect(new Set(all.map(({ seed }) => seed)).size).toBe(all.length);
});

it("a seed gives the same take again, and another seed another", () => {
  const first = opening("reel125_leakmix12", 3);
  const again = opening("reel125_leakmix12", 3);
  // compared as text: comparing a hundred thousand numbers one by one takes seconds
  expect(again.samples.join()).toBe(first.samples.join());
  expect(again.truth).toEqual(first.truth);
  expect(recipe("reel125_leakmix12", 1001).notes).not.toEqual(recipe("reel125_leakmix12").notes);
});

it("a sustained tone is at -20 dBFS and the noise as far below it as its name says", () => {
  const { samples, truth } = opening("steady500_white20", 2, { attackSeconds: 0.015 });
  const [first] = truth.notes;
  if (first === undefined) throw new Error("no note");
  // Over 0.4 s the tone's RMS is exact but for a fraction of a period, and the noise adds 0.04 dB.
  expect(decibels(part(samples, first.on + 0.05, first.on + 0.45))).toBeCloseTo(-20, 0);
  // 45,600 samples of noise: its level is known to 20 log10(1 + 1/sqrt(2 * 45,600)) = 0.03 dB
  expect(decibels(part(samples, 0, 0.95))).toBeCloseTo(-40, 0);
});

it("the truth holds the pitch that sounds: its period shifts the tone onto itself", () => {
  const { samples, truth } = opening("steady500_white40", 1, { snrDb: 120 });
  const [note] = truth.notes;
  if (note === undefined) throw new Error("no note");
  const hz = midiHz(note.midi) * 2 ** (note.cents / 1200);
  expect(truth.f0[Math.round(1.2 / 0.005)]).toBeCloseTo(hz, 4);
  // [calc] 32 periods, nearest whole sample: at most half a sample of 11,700, so what is left is small
  const shift = Math.round((32 * SAMPLE_RATE_HZ) / hz);
  const at = Math.round((note.on + 0.05) * SAMPLE_RATE_HZ);
  const left = Array.from({ length: 4000 }, (_, i) => {
    return (samples[at + i] as number) - (samples[at + i + shift] as number);
  });
  expect(decibels(left)).toBeLessThan(decibels(part(samples, note.on + 0.05, note.on + 0.1)) - 10);
});

it("a leaky note differs from its clean twin by a second reed at the level of the truth", () => {
  const leakyTake = opening("mel250_leak12", 1, { snrDb: 120, breathDb: null });
  const clean = opening("mel250_leak12", 1, { snrDb: 120, breathDb: null, leakDb: -200 });
  const [note] = leakyTake.truth.notes;
  if (note?.leak === undefined || note.leak === null) throw new Error("no leak");
  expect([-5, -4, -3, 3, 4, 5]).toContain(note.leak.midi - note.midi);
  const second = leakyTake.samples.map((value, i) => value - (clean.samples[i] as number));
  // [calc] -20 dBFS - 12 dB; over 0.15 s a low tone's RMS is not exact
  expect(decibels(part(second, note.on + 0.05, note.on + 0.2))).toBeCloseTo(-32, 0);
});

it("reverberation is the sum of all echoes", () => {
  const random = seededRandom(3);
  const sound = Float64Array.from({ length: 9000 }, () => random() - 0.5);
  const response = Float64Array.from({ length: 700 }, (_, i) => (i === 0 ? 1 : (random() - 0.5) / (i + 1)));
  const out = convolved(sound, response);
  for (const n of [0, 1, 699, 700, 4500, 7492, 7493, 8999, 9500]) {
    let sum = 0;
    for (let k = 0; k < response.length; k++) sum += (response[k] as number) * (sound[n - k] ?? 0);
    // 64-bit rounding over 700 terms
    expect(out[n]).toBeCloseTo(sum, 12);
  }
});

it("the noise is normal: variance 1, and a third of the values beyond one deviation", () => {
  const gauss = gaussian(seededRandom(5));
  const values = Array.from({ length: 100_000 }, gauss);
  // [calc] standard error of the deviation 1/sqrt(2 * 10^5) = 0.0022; of the share sqrt(.317 * .683 / 10^5) = 0.0015
  expect(rootMeanSquare(values)).toBeCloseTo(1, 1);
  const beyond = values.filter((value) => Math.abs(value) > 1).length / values.length;
  // [F] 1 - erf(1/sqrt 2) = 0.3173 (Abramowitz and Stegun, table 26.1)
  expect(Math.abs(beyond - 0.3173)).toBeLessThan(0.006);
});

it("a bend of a MIDI file is set before its note and aims half a cent above", () => {
  const bytes = [...bendMidi(22, [{ on: 1, off: 1.5, midi: 60, bend: -37 }])];
  // [calc] 8192 + (-36.5 / 200) * 8192 = 6696.96 -> 6697 = 52 * 128 + 41
  const wheel = bytes.findIndex((byte, i) => byte === 0xe0 && bytes[i + 1] === 41 && bytes[i + 2] === 52);
  expect(wheel).toBeGreaterThan(0);
  // no time in between, then note on, middle C
  expect(bytes.slice(wheel + 3, wheel + 6)).toEqual([0, 0x90, 60]);
});
