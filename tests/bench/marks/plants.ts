import type { Random } from "../../../core/exercise/seeded-random.ts";
import type { Breath } from "./harp-table.ts";
import { otherBreath } from "./harp-table.ts";
import { besideOf, type Cause, causesOf, type Place, reedPitch, roomBelow, type Score } from "./place.ts";

/** A fault, or an ornament that is none, planted on one note. Pitches are fractional MIDI. */
export type Plant =
  | { readonly kind: WrongKind; readonly pitch: number; readonly hole: number; readonly breath: Breath }
  | { readonly kind: "two holes at once"; readonly pitch: number; readonly levelDb: number }
  /** From `atSeconds` after the onset on, the old hole sounds on the new breath. */
  | { readonly kind: "early breath change"; readonly pitch: number; readonly atSeconds: number }
  | { readonly kind: "missed" }
  | { readonly kind: "extra"; readonly pitch: number; readonly atSeconds: number }
  | { readonly kind: "flat" | "sharp"; readonly cents: number }
  | { readonly kind: "early" | "late"; readonly ms: number }
  /** A grace note just before the onset, or a cut after `atSeconds` of the note. */
  | {
      readonly kind: "ornament";
      readonly pitch: number;
      readonly seconds: number;
      readonly atSeconds: number | null;
    };

export type WrongKind = Exclude<Cause, "early breath change">;
export type PlantKind = Plant["kind"];

export const PLANT_KINDS: readonly PlantKind[] = [
  "neighbour hole",
  "wrong breath",
  "octave",
  "bend too shallow",
  "bend too deep",
  "unbent",
  "two holes at once",
  "early breath change",
  "missed",
  "extra",
  "flat",
  "sharp",
  "early",
  "late",
  "ornament",
];

/** A note that may carry a plant, with those beside it. */
export interface Spot {
  readonly score: Score;
  readonly place: Place;
  readonly before: Place;
  readonly after: Place | undefined;
}

/** Less than this is too short for a note of its own: ornaments last 25 to 60 ms (fact sheet, section 6 [M]). */
const SHORTEST_PART_SECONDS = 0.065;
/** Half of it is longer than any ornament. */
const SHORTEST_BETWEEN_SECONDS = 0.2;
/** Ornaments of the bench. */
const GRACE_SECONDS = [0.035, 0.055] as const;

/** A plant of a kind for a note; null where the note, its neighbours or the harp allow none. */
export function plantOf(kind: PlantKind, spot: Spot, random: Random): Plant | null {
  const between = (low: number, high: number) => low + (high - low) * random();
  switch (kind) {
    case "neighbour hole":
    case "wrong breath":
    case "octave":
    case "bend too shallow":
    case "bend too deep":
    case "unbent":
      return wrongPlant(kind, spot, random);
    case "two holes at once": {
      const second = drawn(secondReeds(spot), random);
      return second === null ? null : { kind, pitch: second, levelDb: between(-6, 0) };
    }
    case "early breath change":
      return earlyBreath(spot, between);
    case "missed":
      return { kind };
    case "extra":
      return extraPlant(spot, random);
    // On a bend these would be one too deep or too shallow.
    case "flat":
      return spot.place.bent > 0 ? null : { kind, cents: -between(30, 45) };
    case "sharp":
      return spot.place.bent > 0 ? null : { kind, cents: between(30, 45) };
    case "early": {
      const most = Math.min(0.11, spot.before.touchesNext ? spot.before.lengthSeconds / 2 : 0.11);
      return most < 0.06 ? null : { kind, ms: -1000 * between(0.06, most) };
    }
    case "late": {
      const most = Math.min(0.11, spot.place.lengthSeconds / 2);
      return most < 0.06 ? null : { kind, ms: 1000 * between(0.06, most) };
    }
    case "ornament":
      return ornament(spot, random, between(...GRACE_SECONDS));
  }
}

interface Sounding {
  readonly pitch: number;
  readonly hole: number;
  readonly breath: Breath;
}

function wrongPlant(kind: WrongKind, spot: Spot, random: Random): Plant | null {
  const { score, place, before } = spot;
  const only = candidates(kind, spot, random).filter(({ pitch }) => {
    const causes = causesOf(score.harp, place, before, pitch);
    return Math.abs(pitch - place.target) > 0.5 && causes.length === 1 && causes[0] === kind;
  });
  const chosen = drawn(only, random);
  return chosen === null ? null : { kind, ...chosen };
}

function candidates(kind: WrongKind, { score, place }: Spot, random: Random): readonly Sounding[] {
  const { hole, breath, bent, target } = place;
  const here = (pitch: number): Sounding => ({ pitch, hole, breath });
  const reed = (of: Breath): readonly Sounding[] => {
    const pitch = reedPitch(score.harp, hole, of);
    return pitch === null ? [] : [{ pitch, hole, breath: of }];
  };
  switch (kind) {
    case "neighbour hole":
      return besideOf(score.harp, hole, breath);
    case "wrong breath":
      return reed(otherBreath(breath));
    case "octave":
      return octaves(score, target);
    case "unbent":
      return bent > 0 ? reed(breath) : [];
    case "bend too shallow":
      // Nearer than 45 cents to the plain reed it would count as not bent at all.
      return bent > 0 ? [here(target + 0.55 + random() * Math.max(0.03, bent - 1))] : [];
    case "bend too deep": {
      const room = roomBelow(score.harp, place);
      return bent > 0 && room > 0 ? [here(target - 0.6 - random() * Math.max(0.25, room - 0.75))] : [];
    }
  }
}

function octaves({ harp }: Score, target: number): readonly Sounding[] {
  const found: Sounding[] = [];
  for (const breath of ["blow", "draw"] as const) {
    harp.table[breath].forEach((_, at) => {
      const pitch = reedPitch(harp, at + 1, breath);
      if (pitch !== null && Math.abs(Math.abs(pitch - target) - 12) < 0.01)
        found.push({ pitch, hole: at + 1, breath });
    });
  }
  return found;
}

/** Pitches that sound with a note when two holes are taken at once: not its own, nor one of its harmonics. */
export function secondReeds({ score, place }: Pick<Spot, "score" | "place">): readonly number[] {
  const { hole, breath, target } = place;
  return besideOf(score.harp, hole, breath)
    .map(({ pitch }) => pitch)
    .filter((pitch) => Math.abs(pitch - target) > 0.8 && Math.abs(Math.abs(pitch - target) - 12) > 0.8);
}

function earlyBreath({ score, place, before, after }: Spot, between: (low: number, high: number) => number) {
  if (after === undefined || !place.touchesNext) return null;
  if (after.breath === place.breath || after.hole === place.hole) return null;
  const pitch = reedPitch(score.harp, place.hole, after.breath);
  if (pitch === null || isNear(pitch, place) || isNear(pitch, after)) return null;
  // The note before, going on after a short one, would sound the same.
  if (isNear(pitch, before) && place.lengthSeconds < SHORTEST_BETWEEN_SECONDS) return null;
  const most = place.lengthSeconds - SHORTEST_PART_SECONDS;
  if (most < SHORTEST_PART_SECONDS) return null;
  // The turn comes well within the second half.
  const least = Math.max(SHORTEST_PART_SECONDS, 0.5 * place.lengthSeconds);
  const atSeconds = between(
    Math.min(least, most),
    Math.max(least, Math.min(most, 0.7 * place.lengthSeconds)),
  );
  return { kind: "early breath change", pitch, atSeconds } as const;
}

function extraPlant({ score, place, after }: Spot, random: Random): Plant | null {
  const { hole, breath, lengthSeconds } = place;
  if (lengthSeconds < 0.18) return null;
  // Where the neighbour has the note of the same hole on the next breath, it would be an early change of breath.
  const turned = after === undefined ? null : reedPitch(score.harp, hole, after.breath);
  const free = besideOf(score.harp, hole, breath)
    .map(({ pitch }) => pitch)
    .filter((pitch) => !isNear(pitch, place) && !(after !== undefined && isNear(pitch, after)))
    .filter((pitch) => turned === null || Math.abs(pitch - turned) > 0.8);
  const pitch = drawn(free, random);
  return pitch === null ? null : { kind: "extra", pitch, atSeconds: lengthSeconds / 2 };
}

function ornament({ score, place, before }: Spot, random: Random, seconds: number): Plant | null {
  const free = besideOf(score.harp, place.hole, place.breath)
    .map(({ pitch }) => pitch)
    .filter((pitch) => !isNear(pitch, place) && !isNear(pitch, before));
  const pitch = drawn(free, random);
  if (pitch === null) return null;
  const graceFits = !before.touchesNext || before.lengthSeconds > 2.2 * seconds;
  const cutFits = place.lengthSeconds > 0.25;
  if (cutFits && (!graceFits || random() < 0.5)) {
    return { kind: "ornament", pitch, seconds, atSeconds: 0.45 * place.lengthSeconds };
  }
  return graceFits ? { kind: "ornament", pitch, seconds, atSeconds: null } : null;
}

const isNear = (pitch: number, { target }: Place) => Math.abs(pitch - target) < 0.8;

function drawn<T>(from: readonly T[], random: Random): T | null {
  return from[Math.floor(random() * from.length)] ?? null;
}
