import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DropoutMender } from "../../../core/listen/dropout-mender.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { exerciseOf } from "../../support/drills.ts";

const RATE = 44_100;
const exercise = exerciseOf({ direction: "up" });
const { samples, played } = simulateTake(exercise, { seed: 4, plants: [], sampleRateHz: RATE });

/** The take with a buffer of silence put in, as an overtaxed sound driver does; what follows comes later. */
function withDropout(atSeconds: number, lengthSeconds: number): Float32Array {
  const at = Math.round(atSeconds * RATE);
  const gap = Math.round(lengthSeconds * RATE);
  const out = new Float32Array(samples.length + gap);
  out.set(samples.subarray(0, at));
  out.set(samples.subarray(at), at + gap);
  return out;
}

function mended(input: Float32Array, chunk: number): Float32Array {
  const mender = new DropoutMender(RATE);
  const out = new Float32Array(input.length);
  let end = 0;
  const keep = (part: Float32Array) => {
    out.set(part, end);
    end += part.length;
  };
  for (let at = 0; at < input.length; at += chunk) keep(mender.push(input.subarray(at, at + chunk)));
  keep(mender.finish());
  expect(end).toBe(input.length);
  return out;
}

describe("a dropout of the sound driver", () => {
  test("inside a note makes no second note and leaves its pitch alone", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: exercise.notes.length - 1 }),
        fc.double({ min: 0.15, max: 0.85, noNaN: true }),
        fc.double({ min: 0.003, max: 0.02, noNaN: true }),
        (index, share, length) => {
          const note = played[index];
          if (note === undefined) throw new Error("every note is played");
          const at = note.onSeconds + share * (note.offSeconds - note.onSeconds);
          const heard = listenToTake(withDropout(at, length), RATE).notes;
          expect(heard).toHaveLength(exercise.notes.length);
          // 2 cents: what the best ears notice (fact sheet, section 6 [M]).
          expect(Math.abs(100 * (Number(heard[index]?.pitchMidi) - note.midi))).toBeLessThan(2);
        },
      ),
      { numRuns: 25 },
    );
  });

  test("leaves silence between notes, short clicks of zeros and all lengths as they are", () => {
    const quiet = new Float32Array(RATE);
    quiet.fill(0.2, 0, 1000);
    quiet.fill(0.2, 1000 + Math.round(0.03 * RATE), 20_000);
    expect(mended(quiet, 512)).toEqual(quiet);
    const faded = Float32Array.from(samples.subarray(0, 200_000), (sample, i) =>
      i % 5000 < 400 ? 0 : sample * Math.min(1, (i % 5000) / 5000),
    );
    expect(mended(faded, 512)).toHaveLength(faded.length);
  });

  test("is bridged alike, however the samples were cut into chunks", () => {
    const note = played[3];
    const take = withDropout(Number(note?.onSeconds) + 0.3, 0.01).subarray(0, 5 * RATE);
    const once = mended(take, take.length);
    expect(once).toHaveLength(take.length);
    for (const chunk of [1, 128, 441, 2048]) expect(mended(take, chunk)).toEqual(once);
  });
});
