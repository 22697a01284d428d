import { describe, expect, it } from "vitest";
import { harpInKey } from "../../../core/instrument/harp.ts";
import { layoutOfWords } from "../../../core/instrument/stock-layouts.ts";
import { reedsBeside } from "../../../core/listen/known-reeds.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { knownReeds } from "../../../core/score/known-reeds.ts";
import { noise, take } from "../listen/signals.ts";

const RATE = 48_000;
const hzOf = (midi: number) => 440 * 2 ** ((midi - 69) / 12); // [calc] equal temperament, A4 = 440 Hz

function standardC() {
  const layout = layoutOfWords("standard");
  const harp = layout && harpInKey(layout, "C");
  if (!harp) throw new Error("the standard layout is in the catalogue");
  return harp;
}

describe("knowing the harp in hand", () => {
  it("names the reeds that leak into a note: those of the next holes in the same breath", () => {
    const known = knownReeds(standardC());
    // [F1] standard C: 4 draw is D5 (74), between 3 draw B4 (71) and 5 draw F5 (77).
    expect(reedsBeside(known, 74)).toEqual([71, 77]);
    // [F1] 3 draw bent two semitones, A4 (69), between 2 draw G4 (67) and 4 draw D5 (74).
    expect(reedsBeside(known, 69)).toEqual([67, 74]);
    // [F1] 1 blow C4 (60) has a neighbour on one side only: 2 blow E4 (64).
    expect(reedsBeside(known, 60)).toEqual([64]);
    expect(reedsBeside(known, 40)).toBeNull();
  });

  it("never moves a note: a bend on its way and a note the harp lacks are heard as they are", () => {
    const pitches = [74, 73.6, 73.2, 70.5, 66.4, 75, 58.3];
    const samples = take(
      RATE,
      3,
      pitches.map((midi, i) => ({
        onSeconds: 0.3 + 0.3 * i,
        offSeconds: 0.55 + 0.3 * i,
        hz: hzOf(midi),
        dbfs: -20,
      })),
    );
    const without = ({ leak: _, ...note }: (typeof blind)[number]) => note;
    const blind = listenToTake(samples, RATE).notes;
    const informed = listenToTake(samples, RATE, undefined, knownReeds(standardC())).notes;
    expect(blind).toHaveLength(pitches.length);
    expect(informed.map(without)).toEqual(blind.map(without));
    blind.forEach(({ pitchMidi }, i) => {
      expect(pitchMidi).toBeCloseTo(pitches[i] as number, 2); // a cent
    });
  });

  it("hears the next hole leak into a bend that lies on no note, and no reed that is not next to it", () => {
    const times = { onSeconds: 0.4, offSeconds: 0.8 };
    const bend = { ...times, hz: hzOf(69.4), dbfs: -20 };
    const heard = (other: number) => {
      const samples = take(RATE, 1.2, [bend, { ...times, hz: hzOf(other), dbfs: -32 }]);
      const room = noise(samples.length, 0.001, 2);
      const noisy = samples.map((value, i) => value + (room[i] as number));
      return listenToTake(noisy, RATE, undefined, knownReeds(standardC())).notes[0]?.leak ?? null;
    };
    expect(heard(74)?.pitchMidi).toBeCloseTo(74, 1);
    expect(heard(72)).toBeNull();
  });
});
