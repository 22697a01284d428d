import { expect, test } from "vitest";
import type { LiveReading } from "../../../renderer/audio/microphone.ts";
import { LevelFollower, NO_LEVELS } from "../../../renderer/sound-check/level-follower.ts";

/** Readings of some seconds, 30 a second. */
function readings(from: number, seconds: number, part: Partial<LiveReading>): LiveReading[] {
  return Array.from({ length: Math.round(30 * seconds) }, (_, n) => ({
    atSeconds: from + n / 30,
    pitchMidi: null,
    levelDbfs: -60,
    secondReedDb: null,
    clipped: false,
    silent: false,
    ...part,
  }));
}

function levelsAfter(...parts: LiveReading[][]) {
  const follower = new LevelFollower();
  for (const reading of parts.flat()) follower.take(reading);
  return follower.levels();
}

test("before anything was heard nothing is known", () => {
  expect(new LevelFollower().levels()).toEqual(NO_LEVELS);
  expect(levelsAfter(readings(0, 0.5, {}))).toMatchObject({ noteDbfs: null, noiseDbfs: null, nowDbfs: -60 });
});

test("a note's level is that of the reed, the noise that of the room between the notes", () => {
  const levels = levelsAfter(
    readings(0, 2, { levelDbfs: -62 }),
    readings(2, 1, { pitchMidi: 79, levelDbfs: -24 }),
    readings(3, 0.2, { levelDbfs: -30 }), // it dies away
    readings(3.2, 1, { levelDbfs: -61 }),
  );
  expect(levels).toMatchObject({ noteDbfs: -24, nowDbfs: -61 });
  expect(levels.noiseDbfs).toBeLessThanOrEqual(-61);
});

test("the room is remembered through a long note, a note is forgotten after ten seconds", () => {
  const long = levelsAfter(
    readings(0, 2, { levelDbfs: -62 }),
    readings(2, 9, { pitchMidi: 79, levelDbfs: -24 }),
  );
  const follower = new LevelFollower();
  for (const reading of readings(0, 2, { levelDbfs: -62 })) follower.take(reading);
  follower.levels(); // asked four times a second
  for (const reading of readings(2, 9, { pitchMidi: 79, levelDbfs: -24 })) follower.take(reading);
  expect(follower.levels().noiseDbfs).toBe(-62);
  expect(long.noteDbfs).toBe(-24);
  expect(
    levelsAfter(readings(0, 1, { pitchMidi: 79, levelDbfs: -24 }), readings(1, 11, {})).noteDbfs,
  ).toBeNull();
});

test("clipping is told for three seconds, silence as long as it lasts", () => {
  const clipped = readings(0, 0.1, { clipped: true });
  expect(levelsAfter(clipped, readings(0.1, 2, {})).clipped).toBe(true);
  expect(levelsAfter(clipped, readings(0.1, 3.5, {})).clipped).toBe(false);
  expect(levelsAfter(readings(0, 1, { silent: true, levelDbfs: -140 })).silent).toBe(true);
});
