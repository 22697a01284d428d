import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { writeSound } from "../listen/corpus/wav-file.ts";
import { drawExercises } from "./exercises.ts";
import { markTake, type TakeResult } from "./mark-take.ts";
import { playSounds, voiced } from "./play-sounds.ts";
import { type MeasuredReeds, Reeds } from "./reed-samples.ts";
import { failuresOf } from "./report.ts";
import { type PlannedTake, Planter, reedsCanPlay } from "./take.ts";
import { heardAs, VERSIONS } from "./versions.ts";

const TEMPI = [90, 160, 224];

/** One of several workers that share the takes of a run. */
export interface Share {
  readonly measured: MeasuredReeds;
  readonly seeds: readonly number[];
  readonly exercisesPerTempo: number;
  /** This worker takes every `workers`th take from `worker` on. */
  readonly worker: number;
  readonly workers: number;
  /** Folder for the exercise and the sound of takes with a failure, or null. */
  readonly keep: string | null;
}

/** Plans every take, as all workers must draw the same chances, and plays and marks its own. */
export function runShare(share: Share): readonly TakeResult[] {
  const reeds = new Reeds(share.measured);
  const folder = mkdtempSync(path.join(tmpdir(), "bench-marks-"));
  try {
    return plannedTakes(share, reeds)
      .filter((_, place) => place % share.workers === share.worker)
      .flatMap((take) => playAndMark(take, reeds, folder, share.keep));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

interface NumberedTake {
  readonly name: string;
  readonly seed: number;
  readonly planned: PlannedTake;
}

function plannedTakes({ seeds, exercisesPerTempo }: Share, reeds: Reeds): readonly NumberedTake[] {
  return seeds.flatMap((seed) =>
    TEMPI.flatMap((tempo) => {
      const random = seededRandom(1000 * seed + tempo);
      const planter = new Planter(reeds);
      return drawExercises(exercisesPerTempo, tempo, random, reedsCanPlay(reeds)).map((exercise, place) => {
        const own = Math.floor(random() * 2 ** 32);
        return { name: `seed${seed}-${tempo}-${place}`, seed: own, planned: planter.plan(exercise, own) };
      });
    }),
  );
}

function playAndMark(
  { name, seed, planned }: NumberedTake,
  reeds: Reeds,
  folder: string,
  keep: string | null,
): readonly TakeResult[] {
  const { line, second, leaks, truths } = planned.performance;
  const dry = playSounds(folder, "line", [...line, ...second], reeds);
  const faint = playSounds(folder, "leaks", leaks, reeds);
  const leftCents = truths.map((_, index) => {
    const own = line.find((sound) => sound.index === index);
    return own === undefined ? null : voiced(own, 0, reeds).leftCents;
  });
  return VERSIONS.map((version, place) => {
    const sound = heardAs(version, dry, faint, reeds.toneRms, seed + place);
    const marking = { take: name, version, attackSeconds: reeds.attackSeconds, leftCents };
    const result = markTake(planned, sound, marking);
    if (keep !== null && failuresOf(result).length > 0)
      keepTake(path.join(keep, `${name}-${version.replaceAll(/\W+/g, "")}`), planned, sound);
    return result;
  });
}

function keepTake(base: string, { exercise }: PlannedTake, sound: Float32Array): void {
  writeFileSync(`${base}.json`, JSON.stringify(exercise));
  writeSound(`${base}.wav`, sound);
}
