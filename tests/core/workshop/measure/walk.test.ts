import { describe, expect, test } from "vitest";
import { harpInKey } from "../../../../core/instrument/harp.ts";
import type { Breath } from "../../../../core/instrument/layout.ts";
import { layoutOfWords } from "../../../../core/instrument/stock-layouts.ts";
import type { HeardNote } from "../../../../core/listen/listening.ts";
import { cents, dbfs, midi, seconds } from "../../../../core/units.ts";
import { emptyMeasurement, type ReedMeasurement } from "../../../../core/workshop/measure/measurement.ts";
import {
  goTo,
  hearNote,
  type ReedWalk,
  reedNow,
  settleReed,
  stepBack,
  takeHeld,
  walkOf,
} from "../../../../core/workshop/measure/walk.ts";
import { harp } from "../../../support/harps.ts";

/** A steady note of a second. @param pitch fractional MIDI, A4 = 440 Hz */
const note = (atSeconds: number, pitch: number, changes: Partial<HeardNote> = {}): HeardNote => ({
  onSeconds: seconds(atSeconds),
  offSeconds: seconds(atSeconds + 1),
  pitchMidi: midi(pitch),
  spreadCents: cents(0.5),
  settledSeconds: seconds(0.8),
  levelDbfs: dbfs(-20),
  unreadable: null,
  leak: null,
  ...changes,
});

/** Hears notes a second and a half apart, each told a fifth of a second after its end. */
function hears(walk: ReedWalk, ...pitches: readonly (number | HeardNote)[]): ReedWalk {
  return pitches.reduce<ReedWalk>((now, pitch) => {
    const at = now.fromSeconds + 1.5;
    const heard = typeof pitch === "number" ? note(at, pitch) : { ...pitch, onSeconds: seconds(at) };
    return { ...hearNote(now, heard, at + 1.2) };
  }, walk);
}

const begun = () => walkOf(emptyMeasurement(harp("C"), "microphone"));
const standing = (walk: ReedWalk) => {
  const reed = reedNow(walk);
  return reed === null ? "done" : `${reed.hole} ${reed.breath}`;
};
const reedOf = ({ measurement }: { measurement: ReedMeasurement }, hole: number, breath: Breath) =>
  measurement.reeds.find((reed) => reed.hole === hole && reed.breath === breath);

describe("a walk along the reeds of a standard C harp", () => {
  test("begins at 1 blow and goes on by itself after three steady notes that agree", () => {
    // [F1] standard layout: 1 blow is C4, MIDI 60; 1 draw D4, 62.
    const two = hears(begun(), 60.03, 60.04);
    expect(standing(two)).toBe("1 blow");
    expect(two.says?.kind).toBe("counted");
    const three = hears(two, 60.05);
    expect(standing(three)).toBe("1 draw");
    expect(three.says?.kind).toBe("moved on");
    expect(reedOf(three, 1, "blow")?.outcome).toBe("measured");
  });

  test.each<[string, number | HeardNote, string]>([
    ["a neighbour, 2 blow", 64, "elsewhere"],
    ["the other breath, 1 draw", 62, "elsewhere"],
    ["a bend, 1 draw bent a semitone", 61, "elsewhere"],
    ["an octave, 4 blow", 72, "elsewhere"],
    ["two reeds", note(0, 60, { leak: { pitchMidi: midi(64), levelDb: -9 } }), "unfit"],
    ["a wavering breath", note(0, 60, { spreadCents: cents(9) }), "unfit"],
    ["a note of a fifth of a second", note(0, 60, { settledSeconds: seconds(0.2) }), "unfit"],
    ["a note without a pitch", note(0, 60, { pitchMidi: null, unreadable: "no steady pitch" }), "unfit"],
    ["next to nothing", note(0, 60, { levelDbfs: dbfs(-66) }), "unfit"],
  ])("does not count %s", (_, heard, says) => {
    const walk = hears(begun(), heard, heard, heard, heard);
    expect(standing(walk)).toBe("1 blow");
    expect(walk.says?.kind).toBe(says);
    expect(reedOf(walk, 1, "blow")?.readings).toEqual([]);
  });

  test("a neighbour's name is told", () => {
    const { says } = hears(begun(), 64);
    expect(says?.kind === "elsewhere" && says.like[0]).toMatchObject({ hole: 2, breath: "blow" });
  });

  test("a second reed 30 dB below takes no part", () => {
    const walk = hears(begun(), note(0, 60, { leak: { pitchMidi: midi(64), levelDb: -30 } }));
    expect(walk.says?.kind).toBe("counted");
  });

  test("a reading that lies apart is asked again, and left out of the middle", () => {
    // [calc] 60.00, 60.02 and 60.01 lie within 4 cents, 60.20 does not.
    const walk = hears(begun(), 60, 60.2, 60.02);
    expect(standing(walk)).toBe("1 blow");
    expect(hears(begun(), 60, 60.2).says?.kind).toBe("apart");
    expect(standing(hears(walk, 60.01))).toBe("1 draw");
  });

  test("after seven notes without three that agree the reed is taken as it is", () => {
    const scattered = [60, 60.06, 60.12, 60.18, 60.24, 60.3];
    expect(standing(hears(begun(), ...scattered))).toBe("1 blow");
    expect(standing(hears(begun(), ...scattered, 60.36))).toBe("1 draw");
  });

  test("a reed that has fallen a semitone counts only once the player says that it is this one", () => {
    const walk = hears(begun(), 59, 59, 59);
    expect(walk.says?.kind).toBe("elsewhere");
    const told = takeHeld(walk, walk.fromSeconds);
    expect(reedOf(told, 1, "blow")?.readings).toHaveLength(1);
    // From then on notes there count without touching anything.
    expect(standing(hears(told, 59.01, 59.02))).toBe("1 draw");
  });

  test("nothing is taken that lies three semitones off", () => {
    const walk = hears(begun(), 57);
    expect(takeHeld(walk, 0)).toBe(walk);
  });

  test("a note begun before the reed was asked for is not its", () => {
    const walk = hears(begun(), 60, 60, 60);
    const early = note(walk.fromSeconds - 0.1, 62);
    expect(hearNote(walk, early, walk.fromSeconds + 1)).toBe(walk);
  });

  test("between reeds of one note there is time to change: 3 blow after 2 draw", () => {
    // [F2] 2 draw and 3 blow of the standard layout are the same note, G4, MIDI 67.
    const reeds = emptyMeasurement(harp("C"), "microphone").reeds;
    const at = reeds.findIndex(({ hole, breath }) => hole === 2 && breath === "draw");
    const walk = hears(goTo(begun(), at, 0), 67, 67, 67);
    expect(standing(walk)).toBe("3 blow");
    // The third note began 1.5 s after the walk stood there and was told 1.2 s later.
    const told = 1.5 + 1.2;
    expect(hearNote(walk, note(told + 0.3, 67), told + 1.5)).toBe(walk);
    expect(hearNote(walk, note(told + 0.5, 67), told + 1.7).says?.kind).toBe("counted");
  });

  test("on a harp set 40 cents high all reeds are found, as the first three tell of it", () => {
    // [F1] standard layout, holes 1 to 3, blow before draw: C4 D4 E4 G4 G4 B4.
    const notes = [60, 62, 64, 67, 67, 71];
    const walk = notes.reduce((now, pitch) => hears(now, pitch + 0.4, pitch + 0.4, pitch + 0.4), begun());
    expect(standing(walk)).toBe("4 blow");
    // [calc] 60 cents off is more than 50 from the target, but 25 from where the harp lies (its shift counts up to 35).
    expect(hears(walk, 72.6).says?.kind).toBe("counted");
    expect(hears(begun(), 60.6).says?.kind).toBe("elsewhere");
  });

  test("skipped, silent and broken reeds are told apart, and skipped ones can be gone back to", () => {
    let walk = settleReed(begun(), "skipped", 0);
    walk = settleReed(walk, "silent", 0);
    walk = settleReed(walk, "broken", 0);
    expect(standing(walk)).toBe("2 draw");
    expect(walk.measurement.reeds.slice(0, 3).map(({ outcome }) => outcome)).toEqual([
      "skipped",
      "silent",
      "broken",
    ]);
    const back = stepBack(walk, 0);
    expect(standing(back)).toBe("2 blow");
    expect(reedOf(back, 2, "blow")?.outcome).toBeNull();
  });

  test("ends when every reed is done with, and goes on where it was left", () => {
    // [F1] both rows of the standard layout on C.
    const blow = [60, 64, 67, 72, 76, 79, 84, 88, 91, 96];
    const draw = [62, 67, 71, 74, 77, 81, 83, 86, 89, 93];
    const all = blow.flatMap((pitch, n) => [pitch, draw[n] ?? 0]);
    const half = all.slice(0, 9).reduce((now, pitch) => hears(now, pitch, pitch, pitch), begun());
    const later = walkOf(JSON.parse(JSON.stringify(half.measurement)));
    expect(standing(later)).toBe("5 draw");
    const whole = all.slice(9).reduce((now, pitch) => hears(now, pitch, pitch, pitch), later);
    expect(standing(whole)).toBe("done");
    expect(whole.measurement.reeds.every(({ outcome }) => outcome === "measured")).toBe(true);
    expect(hearNote(whole, note(1000, 60), 1001)).toBe(whole);
  });

  test("reeds above G7 of an extended harp are not asked for, and told", () => {
    const layout = layoutOfWords("extended-16");
    const extended = layout === null ? null : harpInKey(layout, "C");
    if (extended === null) throw new Error("an extended C harp");
    const { reeds } = emptyMeasurement(extended, "microphone");
    const high = reeds
      .filter(({ outcome }) => outcome === "too high")
      .map(({ hole, breath }) => `${hole} ${breath}`);
    // [F1] holes 13 to 16 of the extended standard layout from G3: blow G7 C8 E8 G8, draw D7 F7 A7 B7; G7 is 103.
    expect(high).toEqual(["14 blow", "15 blow", "15 draw", "16 blow", "16 draw"]);
    const at = reeds.findIndex(({ hole, breath }) => hole === 14 && breath === "draw");
    const walk = settleReed(goTo(walkOf(emptyMeasurement(extended, "microphone")), at, 0), "skipped", 0);
    expect(standing(walk)).toBe("1 blow");
  });
});
