import { describe, expect, it } from "vitest";
import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { throughRoom } from "../../bench/listen/corpus/room.ts";
import { type Tone, take } from "./signals.ts";

const RATE = 48_000;
const ROOMS = [1, 2, 3, 4];

const tone = (onSeconds: number, offSeconds: number, midi: number): Tone => ({
  onSeconds,
  offSeconds,
  hz: 440 * 2 ** ((midi - 69) / 12),
  dbfs: -20,
});

/** Onsets heard in a room that rings for 0.4 s, its direct sound 3 dB above the rest. */
function onsetsIn(room: number, ...tones: readonly Tone[]): readonly number[] {
  const dry = Float64Array.from(take(RATE, 1.6, tones));
  const heard = Float32Array.from(throughRoom(dry, 0.4, gaussian(seededRandom(room))));
  return listenToTake(heard, RATE)
    .notes.filter(({ levelDbfs }) => levelDbfs > -40)
    .map(({ onSeconds }) => onSeconds);
}

describe("a reed in a room that rings on", () => {
  it.each(ROOMS)("held for a second is one note (room %d)", (room) => {
    expect(onsetsIn(room, tone(0.3, 1.3, 74))).toHaveLength(1);
  });

  // 40 ms apart: 20 ms in which the tone of `signals.ts` dies away, and 20 ms of silence.
  it.each(ROOMS)("sounded twice, 40 ms apart, is two (room %d)", (room) => {
    const onsets = onsetsIn(room, tone(0.3, 0.6, 74), tone(0.64, 1.1, 74));
    expect(onsets).toHaveLength(2);
    // 25 ms: at 224 crotchets a minute a fifth of a quaver; what the listening bench counts as right.
    expect(Math.abs((onsets[1] ?? 0) - 0.64)).toBeLessThan(0.025);
  });
});
