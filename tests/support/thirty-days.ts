import { countInSeconds, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { gaussian, seededRandom } from "../../core/exercise/seeded-random.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import type { HistoryEntry } from "../../renderer/store/history-store.ts";
import { exerciseOf } from "./drills.ts";
import { heardNote, listeningOf } from "./listenings.ts";

const DAY_MS = 86_400_000;
/** 2026-09-01 at noon, UTC. */
const FIRST_NOON = 1_788_264_000_000;

/**
 * Thirty days of a player who does one scale twice a day, a rest every seventh day. The pitch scatters by 16 cents at first and
 * by 6 at last; the timing stays as it is, at 25 ms; every third bend is missed.
 */
export function thirtyDays(seed: number): readonly HistoryEntry[] {
  const exercise = exerciseOf({ octaves: 2 });
  const random = seededRandom(seed);
  const normal = gaussian(random);
  return Array.from({ length: 30 }, (_, day) => day)
    .filter((day) => day % 7 !== 6)
    .flatMap((day) =>
      [0, 1].map((attempt): HistoryEntry => {
        const scatterCents = 16 - (10 * day) / 29;
        const played = exercise.notes.filter(
          ({ action }) => action.technique === "plain" || random() > 1 / 3,
        );
        const heard = played.map((note) =>
          heardNote(
            countInSeconds(exercise) + onsetOf(exercise, note) + 0.025 * normal(),
            targetMidi(exercise, note) + (scatterCents * normal()) / 100,
          ),
        );
        return {
          id: `day ${day} attempt ${attempt}`,
          atEpochMs: FIRST_NOON + day * DAY_MS + attempt * 600_000,
          zone: "Europe/Dublin",
          source: "microphone",
          exercise,
          attempt: scoreTake(exercise, listeningOf(heard)),
          take: { samples: new Float32Array(480), sampleRateHz: 48_000 },
        };
      }),
    );
}
