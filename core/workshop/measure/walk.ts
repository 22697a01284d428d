import type { ReedAction } from "../../instrument/reed-actions.ts";
import type { HeardNote } from "../../listen/listening.ts";
import { median } from "../../listen/median.ts";
import { type Cents, cents, type Midi } from "../../units.ts";
import { agreedReading, isSettled, standsApart } from "./agreement.ts";
import { type HarpSound, harpSounds, targetMidiOf } from "./harp-sounds.ts";
import type { MeasuredReed, ReedMeasurement, Settled } from "./measurement.ts";
import { isReading, type ReedReading, readingOf, samePlace, type Unfit } from "./reed-reading.ts";

/** A note this near to where a reed should lie, as the rest of the harp lies, is that reed. */
export const OWN_CENTS = 50;
/** A harp set higher or lower as a whole moves what is expected, so far at most. */
const MOST_SHIFT_CENTS = 35;
/** Reeds that have to be measured before the rest of the harp says anything. */
const REEDS_FOR_SHIFT = 3;
/** Further away than this nothing is taken for a reed, not even when told so: no reed falls so far and still speaks. */
const FARTHEST_CENTS = 260;
/** A sound of the harp this near explains a note. */
const LIKE_CENTS = 45;
/** On to a reed with the note of the one before it, what was begun sooner still belongs to that one. */
const SAME_NOTE_PAUSE_SECONDS = 0.4;

/** What is to be said of the note heard last. */
export type WalkSays =
  | { readonly kind: "counted"; readonly reading: ReedReading; readonly offCents: Cents }
  /** It counts, but lies apart from those before: another is needed. */
  | { readonly kind: "apart"; readonly reading: ReedReading; readonly offCents: Cents }
  /** The reed is done, and the walk has moved on. */
  | { readonly kind: "moved on"; readonly reading: ReedReading; readonly offCents: Cents }
  | { readonly kind: "unfit"; readonly why: Unfit }
  /**
   * It is not where this reed should be. `like` is what of the harp sounds so. Only the player can tell whether it is this reed
   * all the same: `takeHeld`.
   */
  | { readonly kind: "elsewhere"; readonly offCents: Cents; readonly like: readonly ReedAction[] };

/** A walk along the reeds, under way. Plain data: what it has come to so far is its measurement. */
export interface ReedWalk {
  readonly measurement: ReedMeasurement;
  /** Place in the measurement's reeds of the one that is asked for; null when all are done. */
  readonly at: number | null;
  readonly says: WalkSays | null;
  /** A note that would be this reed's if the player says so. */
  readonly held: ReedReading | null;
  /** The player has said that this reed lies so far off: where. */
  readonly toldMidi: Midi | null;
  /** Notes that began earlier on the walk's clock are not this reed's. */
  readonly fromSeconds: number;
}

/** The walk of a measurement, from its first open reed on. */
export function walkOf(measurement: ReedMeasurement): ReedWalk {
  return standingAt(measurement, openFrom(measurement, 0), 0);
}

function standingAt(measurement: ReedMeasurement, at: number | null, fromSeconds: number): ReedWalk {
  return { measurement, at, says: null, held: null, toldMidi: null, fromSeconds };
}

/** The next reed that is not done with, round the end; null where there is none. */
function openFrom({ reeds }: ReedMeasurement, from: number): number | null {
  const order = reeds.map((_, n) => (from + n) % reeds.length);
  return order.find((n) => reeds[n]?.outcome === null) ?? null;
}

/** The reed that is asked for; null when all are done. */
export function reedNow({ measurement, at }: ReedWalk): MeasuredReed | null {
  return at === null ? null : (measurement.reeds[at] ?? null);
}

/**
 * The walk after a note. A note counts only if it is steady, alone, and where the reed that is asked for should lie; the walk goes
 * on by itself when enough of them agree.
 *
 * @param nowSeconds when the note was told, on the clock of the note's own times
 */
export function hearNote(walk: ReedWalk, note: HeardNote, nowSeconds: number): ReedWalk {
  const reed = reedNow(walk);
  if (reed === null || note.onSeconds < walk.fromSeconds) return walk;
  const read = readingOf(note);
  if (!isReading(read)) return { ...walk, says: { kind: "unfit", why: read }, held: null };
  const offCents = cents(100 * (read.midi - targetMidiOf(walk.measurement.harp, reed)));
  if (!isExpected(walk, read, offCents)) {
    const like = likeSounds(walk, read.midi);
    const isNear = Math.abs(offCents) <= FARTHEST_CENTS;
    return { ...walk, says: { kind: "elsewhere", offCents, like }, held: isNear ? read : null };
  }
  return withReading(walk, reed, read, offCents, nowSeconds);
}

/** The note that was not expected counts all the same: the player knows that it is this reed. */
export function takeHeld(walk: ReedWalk, nowSeconds: number): ReedWalk {
  const { held } = walk;
  const reed = reedNow(walk);
  if (reed === null || held === null) return walk;
  const offCents = cents(100 * (held.midi - targetMidiOf(walk.measurement.harp, reed)));
  return withReading({ ...walk, toldMidi: held.midi }, reed, held, offCents, nowSeconds);
}

/** Done with the reed in another way, and on to the next. */
export function settleReed(walk: ReedWalk, outcome: Settled, nowSeconds: number) {
  const reed = reedNow(walk);
  return reed === null ? walk : movedOn(walk, { ...reed, outcome }, null, nowSeconds);
}

/** Back to the reed before the present one, to measure it anew. */
export function stepBack(walk: ReedWalk, nowSeconds: number): ReedWalk {
  const { at, measurement } = walk;
  const before = measurement.reeds.findLastIndex(
    ({ outcome }, n) => n < (at ?? measurement.reeds.length) && outcome !== "too high",
  );
  return before < 0 ? walk : goTo(walk, before, nowSeconds);
}

/** To any reed, to measure it anew. @throws RangeError where there is none */
export function goTo(walk: ReedWalk, place: number, nowSeconds: number): ReedWalk {
  const reed = walk.measurement.reeds[place];
  if (reed === undefined)
    throw new RangeError(`reed ${place}: there are ${walk.measurement.reeds.length}, counted from 0`);
  if (reed.outcome === "too high") return walk;
  const fresh = { ...reed, readings: [], outcome: null };
  return standingAt(withReed(walk.measurement, fresh), place, nowSeconds);
}

/** How the harp lies as a whole, from the reeds measured so far; 0 as long as they are few. */
export function shiftOf(measurement: ReedMeasurement): Cents {
  const offsets = measurement.reeds.flatMap((reed) => {
    const agreed = reed.outcome === "measured" ? agreedReading(reed.readings) : null;
    return agreed === null ? [] : [100 * (agreed.midi - targetMidiOf(measurement.harp, reed))];
  });
  if (offsets.length < REEDS_FOR_SHIFT) return cents(0);
  return cents(Math.max(-MOST_SHIFT_CENTS, Math.min(MOST_SHIFT_CENTS, median(offsets))));
}

function isExpected({ measurement, toldMidi }: ReedWalk, read: ReedReading, offCents: Cents): boolean {
  const fromTold = toldMidi === null ? Number.POSITIVE_INFINITY : 100 * Math.abs(read.midi - toldMidi);
  return Math.abs(offCents - shiftOf(measurement)) <= OWN_CENTS || fromTold <= OWN_CENTS;
}

/** What of the harp sounds like a pitch, the nearest first, plain notes before bent ones. */
function likeSounds({ measurement }: ReedWalk, heard: Midi): readonly ReedAction[] {
  const shift = shiftOf(measurement) / 100;
  const distance = (sound: HarpSound) => Math.abs(heard - shift - sound.midi);
  const bent = (sound: HarpSound) => Number(sound.action.technique !== "plain");
  return harpSounds(measurement.harp)
    .filter((sound) => 100 * distance(sound) <= LIKE_CENTS)
    .sort((a, b) => bent(a) - bent(b) || distance(a) - distance(b))
    .map(({ action }) => action);
}

function withReading(
  walk: ReedWalk,
  reed: MeasuredReed,
  reading: ReedReading,
  offCents: Cents,
  nowSeconds: number,
): ReedWalk {
  const readings = [...reed.readings, reading];
  if (isSettled(readings))
    return movedOn(walk, { ...reed, readings, outcome: "measured" }, { reading, offCents }, nowSeconds);
  const kind = standsApart(readings) ? "apart" : "counted";
  const measurement = withReed(walk.measurement, { ...reed, readings });
  return { ...walk, measurement, held: null, says: { kind, reading, offCents } };
}

function movedOn(
  walk: ReedWalk,
  done: MeasuredReed,
  last: { readonly reading: ReedReading; readonly offCents: Cents } | null,
  nowSeconds: number,
): ReedWalk {
  const measurement = withReed(walk.measurement, done);
  const at = openFrom(measurement, (walk.at ?? 0) + 1);
  const next = at === null ? undefined : measurement.reeds[at];
  const target = (reed: MeasuredReed) => targetMidiOf(measurement.harp, reed);
  const same = next !== undefined && Math.abs(target(next) - target(done)) * 100 < OWN_CENTS;
  const says: WalkSays | null = last === null ? null : { kind: "moved on", ...last };
  return {
    ...standingAt(measurement, at, nowSeconds + (same ? SAME_NOTE_PAUSE_SECONDS : 0)),
    says,
  };
}

function withReed(measurement: ReedMeasurement, changed: MeasuredReed): ReedMeasurement {
  const reeds = measurement.reeds.map((reed) => (samePlace(reed, changed) ? changed : reed));
  return { ...measurement, reeds };
}
