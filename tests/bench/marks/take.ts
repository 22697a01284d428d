import type { Exercise } from "../../../core/exercise/exercise.ts";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { type Performance, perform, type Sound } from "./performance.ts";
import { type Score, scoreOf } from "./place.ts";
import { PLANT_KINDS, type Plant, type PlantKind, plantOf, type Spot } from "./plants.ts";
import { HIGHEST_KEY, LOWEST_KEY, type Reeds } from "./reed-samples.ts";

/** An exercise as it will be played. */
export interface PlannedTake {
  readonly exercise: Exercise;
  readonly score: Score;
  readonly performance: Performance;
}

/** Clean notes between two plants, at least: what one does to its neighbours must not meet another. */
const CLEAN_BETWEEN = 3;
/** A plant is refused where it leaves a note shorter than its reed needs to settle, so often before the next note is tried. */
const TRIES = 6;

/** Whether the recorded reeds have every note of an exercise and settle on each before it ends. */
export function reedsCanPlay(reeds: Reeds): (exercise: Exercise) => boolean {
  return (exercise) =>
    scoreOf(exercise).places.every(
      ({ target, lengthSeconds }) =>
        isInRange(target) && reeds.ownCents(Math.round(target), lengthSeconds) !== null,
    );
}

/** Plants faults in an exercise, rarer kinds first, so that every kind that fits somewhere is had about equally often. */
export class Planter {
  private readonly planted = new Map<PlantKind, number>();
  private readonly reeds: Reeds;

  constructor(reeds: Reeds) {
    this.reeds = reeds;
  }

  plan(exercise: Exercise, seed: number): PlannedTake {
    const random = seededRandom(seed);
    const score = scoreOf(exercise);
    const plants = new Map<number, Plant>();
    let next = 1 + Math.floor(random() * CLEAN_BETWEEN);
    while (next < score.places.length) {
      const plant = this.plantAt(score, next, random);
      if (plant === null) {
        next++;
        continue;
      }
      plants.set(next, plant);
      this.planted.set(plant.kind, (this.planted.get(plant.kind) ?? 0) + 1);
      next += 1 + CLEAN_BETWEEN + Math.floor(random() * 2);
    }
    const performance = perform(score, plants, random);
    const leaks = performance.leaks.filter(({ pitch }) => isInRange(pitch));
    return { exercise, score, performance: { ...performance, leaks } };
  }

  private plantAt(score: Score, at: number, random: Random): Plant | null {
    const place = score.places[at];
    const before = score.places[at - 1];
    if (place === undefined || before === undefined) return null;
    const spot: Spot = { score, place, before, after: score.places[at + 1] };
    const rarest = PLANT_KINDS.map((kind) => ({ kind, rank: (this.planted.get(kind) ?? 0) + random() }))
      .toSorted((a, b) => a.rank - b.rank)
      .slice(0, TRIES);
    for (const { kind } of rarest) {
      const plant = plantOf(kind, spot, random);
      if (plant !== null && this.canSound(spot, plant, random)) return plant;
    }
    return null;
  }

  /** Whether every note that is to be judged still settles when this one plant is played. */
  private canSound({ score, place }: Spot, plant: Plant, random: Random): boolean {
    const { line, second } = perform(score, new Map([[place.index, plant]]), random);
    const near = line.filter(
      (sound) => Math.abs(sound.onSeconds - place.onSeconds) < 2 * place.lengthSeconds + 1,
    );
    const settles = (sound: Sound) =>
      isInRange(sound.pitch) &&
      this.reeds.ownCents(Math.round(sound.pitch), sound.offSeconds - sound.onSeconds) !== null;
    if (!second.every(settles)) return false;
    return near.every((sound) => (isGrace(plant, sound) ? isInRange(sound.pitch) : settles(sound)));
  }
}

const isGrace = (plant: Plant, sound: Sound) => plant.kind === "ornament" && sound.pitch === plant.pitch;

const isInRange = (pitch: number) => Math.round(pitch) >= LOWEST_KEY && Math.round(pitch) <= HIGHEST_KEY;
