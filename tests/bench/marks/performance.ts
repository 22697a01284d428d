import type { Random } from "../../../core/exercise/seeded-random.ts";
import type { Breath } from "./harp-table.ts";
import { besideOf, type Place, type Score } from "./place.ts";
import type { Plant } from "./plants.ts";

/** Something one reed does; times from the start of the take, pitch fractional MIDI. */
export interface Sound {
  readonly onSeconds: number;
  readonly offSeconds: number;
  readonly pitch: number;
  /** Against an ordinary note. */
  readonly levelDb: number;
  /** The written note it stands for, or null: an ornament, a note too many, a second reed. */
  readonly index: number | null;
}

/** What a marker ought to find on one written note. */
export interface Truth {
  readonly plant: Plant | null;
  /** Of the right note as planted, from its target; null where the right note does not sound. */
  readonly cents: number | null;
  /** From the beat; null where nothing answers it, or an ornament stands on its beginning. */
  readonly ms: number | null;
  /** How long the note sounds before something else does. */
  readonly lengthSeconds: number;
}

export interface Performance {
  /** One after another. */
  readonly line: readonly Sound[];
  /** Reeds that sound with the line. */
  readonly second: readonly Sound[];
  /** A neighbour reed, faint, with every note: only in the leaky version. */
  readonly leaks: readonly Sound[];
  /** One for each written note. */
  readonly truths: readonly Truth[];
}

/** Played notes end this long before the next; recorded reeds then ring on for some 40 ms. */
const GAP_SECONDS = 0.005;
/** The same reed sounds again only after the tongue or the breath has stopped it. */
const REPEAT_GAP_SECONDS = 0.035;
const SAME_REED_SEMITONES = 0.6;
/** A sound is never shorter than this, whatever comes after it. */
const SHORTEST_SECONDS = 0.02;
const LEAK_DB = -12;

/** Plays what is written, with the plants. */
export function perform(score: Score, plants: ReadonlyMap<number, Plant>, random: Random): Performance {
  const played = score.places.map((place) => playPlace(place, plants.get(place.index) ?? null));
  const line = oneAtATime(played.flatMap(({ sounds }) => sounds));
  const seconds = played.flatMap(({ second }) => second);
  const leaks = score.places.flatMap((place, at) => {
    const plant = plants.get(place.index) ?? null;
    const own = line.find((sound) => sound.index === at);
    return own === undefined ? [] : leakOf(score, place, plant, own, random);
  });
  const second = seconds.map((one) => {
    const own = line.find((sound) => sound.onSeconds === one.onSeconds);
    return { ...one, offSeconds: own?.offSeconds ?? one.offSeconds };
  });
  return { line, second, leaks, truths: score.places.map((place) => truthOf(place, plants, line)) };
}

interface Played {
  readonly sounds: readonly Sound[];
  readonly second: readonly Sound[];
}

function playPlace(place: Place, plant: Plant | null): Played {
  const { onSeconds, lengthSeconds, target, index } = place;
  const end = onSeconds + lengthSeconds;
  const sound = (pitch: number, from = onSeconds, to = end, answers: number | null = index): Sound => ({
    onSeconds: from,
    offSeconds: to,
    pitch,
    levelDb: 0,
    index: answers,
  });
  const alone = (...sounds: readonly Sound[]): Played => ({ sounds, second: [] });
  if (plant === null) return alone(sound(target));
  switch (plant.kind) {
    case "missed":
      return alone();
    case "flat":
    case "sharp":
      return alone(sound(target + plant.cents / 100));
    case "early":
    case "late":
      return alone(sound(target, onSeconds + plant.ms / 1000));
    case "extra":
    case "early breath change": {
      const turn = onSeconds + plant.atSeconds;
      return alone(sound(target, onSeconds, turn), sound(plant.pitch, turn, end, null));
    }
    case "ornament": {
      if (plant.atSeconds === null) {
        const grace = sound(plant.pitch, onSeconds - plant.seconds, onSeconds, null);
        return alone(grace, sound(target));
      }
      const cut = onSeconds + plant.atSeconds;
      const on = cut + plant.seconds;
      return alone(
        sound(target, onSeconds, cut),
        sound(plant.pitch, cut, on, null),
        sound(target, on, end, null),
      );
    }
    case "two holes at once": {
      const second = { ...sound(plant.pitch, onSeconds, end, null), levelDb: plant.levelDb };
      return { sounds: [sound(target)], second: [second] };
    }
    default:
      return alone(sound(plant.pitch));
  }
}

/** One mouth: each sound ends before the next begins. */
function oneAtATime(sounds: readonly Sound[]): readonly Sound[] {
  const byOnset = sounds.toSorted((a, b) => a.onSeconds - b.onSeconds);
  return byOnset.map((sound, at) => {
    const next = byOnset[at + 1];
    if (next === undefined) return sound;
    const again = Math.abs(next.pitch - sound.pitch) < SAME_REED_SEMITONES;
    const latest = next.onSeconds - (again ? REPEAT_GAP_SECONDS : GAP_SECONDS);
    const offSeconds = Math.max(sound.onSeconds + SHORTEST_SECONDS, Math.min(sound.offSeconds, latest));
    return { ...sound, offSeconds };
  });
}

/** The neighbour that leaks into what is played on a place; none where its holes give no other note. */
function leakOf(
  score: Score,
  place: Place,
  plant: Plant | null,
  own: Sound,
  random: Random,
): readonly Sound[] {
  if (plant?.kind === "two holes at once") return [];
  const { hole, breath } = holeOf(place, plant);
  const free = besideOf(score.harp, hole, breath)
    // The right hole leaking into a wrong one would be two holes at once.
    .filter((one) => one.hole !== place.hole)
    .map(({ pitch }) => pitch)
    .filter((pitch) => Math.abs(pitch - own.pitch) > 0.8 && Math.abs(pitch - place.target) > 0.8);
  const pitch = free[Math.floor(random() * free.length)];
  return pitch === undefined ? [] : [{ ...own, pitch, levelDb: LEAK_DB, index: null }];
}

function holeOf(place: Place, plant: Plant | null): { readonly hole: number; readonly breath: Breath } {
  return plant && "hole" in plant ? plant : place;
}

function truthOf(place: Place, plants: ReadonlyMap<number, Plant>, line: readonly Sound[]): Truth {
  const plant = plants.get(place.index) ?? null;
  const own = line.find((sound) => sound.index === place.index);
  const right = own !== undefined && Math.abs(own.pitch - place.target) < 0.5;
  return {
    plant,
    cents: right ? 100 * (own.pitch - place.target) : null,
    ms: own === undefined ? null : 1000 * (own.onSeconds - place.onSeconds),
    lengthSeconds: own === undefined ? 0 : own.offSeconds - own.onSeconds,
  };
}
