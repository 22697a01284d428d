import type { Exercise } from "../../../core/exercise/exercise.ts";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { readWav, writeWav } from "../../../core/listen/wav.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { beats } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { type Curve, curveOf } from "./curve.ts";

const SECONDS = 10;
const RATE_HZ = 48_000;
const NOTES_A_SECOND = 1.5;

/** A drill played again and again for so many seconds: crotchets at 90 a minute. */
function drillOf(seconds: number): Exercise {
  const drill = exerciseOf();
  const count = Math.max(1, Math.round(seconds * NOTES_A_SECOND) - drill.countInBeats);
  const notes = Array.from({ length: count }, (_, index) => {
    const note = drill.notes[index % drill.notes.length];
    if (note === undefined) throw new Error("a drill has notes");
    return { ...note, index, startBeats: beats(index) };
  });
  return { ...drill, notes };
}

const takes = new Map<number, ReturnType<typeof makeTake>>();

/** Made once for all curves. */
function takeOf(seconds: number) {
  const take = takes.get(seconds) ?? makeTake(seconds);
  takes.set(seconds, take);
  return take;
}

function makeTake(seconds: number) {
  const exercise = drillOf(seconds);
  // One note in ten is missed: what is marked is not all alike.
  const random = seededRandom(seconds);
  const plants = exercise.notes.flatMap(({ index }) =>
    random() < 0.1 ? [{ kind: "missed" as const, index }] : [],
  );
  const { samples } = simulateTake(exercise, { seed: 1, plants, sampleRateHz: RATE_HZ });
  return { exercise, samples };
}

/** A growing take by a simulated player. */
export function takeCurves(): readonly Curve[] {
  const of = "seconds of a take";
  return [
    curveOf(
      { work: "a recording is read", of, base: SECONDS },
      (seconds) => writeWav(takeOf(seconds).samples, RATE_HZ, "pcm16"),
      readWav,
    ),
    curveOf({ work: "it is listened to", of, base: SECONDS }, takeOf, ({ samples }) =>
      listenToTake(samples, RATE_HZ),
    ),
    curveOf(
      { work: "it is marked", of, base: SECONDS },
      (seconds) => {
        const { exercise, samples } = takeOf(seconds);
        return { exercise, listening: listenToTake(samples, RATE_HZ) };
      },
      ({ exercise, listening }) => scoreTake(exercise, listening),
    ),
  ];
}
