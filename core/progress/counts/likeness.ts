import type { Exercise, Parameter } from "../../exercise/exercise.ts";
import type { Harp } from "../../instrument/harp.ts";
import type { Attempt, Way } from "../../score/attempt.ts";
import { type Tempo, tempoInWords } from "../../tune/tempo.ts";
import { type Bpm, bpm, type Milliseconds, milliseconds } from "../../units.ts";

/** Tempi that are compared with one another: from, included, up to, excluded. */
export interface TempoBand {
  readonly noteValue: Tempo["noteValue"];
  readonly fromBpm: Bpm;
  readonly toBpm: Bpm;
}

/** What two attempts must have in common to be compared. All are plain texts or numbers; equal ones are alike. */
export interface Like {
  /** The drill or stretch of a tune, whatever harp and tempo: see `itemOf`. */
  readonly item: string;
  /** See `harpKeyOf`. */
  readonly harp: string;
  readonly way: Way;
  readonly tempo: TempoBand;
  /** Delay that was taken off, to 10 ms; "found" where the start was found from the notes. */
  readonly delayMs: Milliseconds | "found";
}

/** Each band is a tenth wider than the one before: 5 per cent steps stay within one or go to the next. */
const BAND_RATIO = 1.1;
const BANDS_FROM_BPM = 20;
/** A measured delay is taken if it lies within 5 ms of its repetitions: such differences are no other setting. */
const DELAY_STEP_MS = 10;

/** The band of a tempo, 20 × 1.1^k to 20 × 1.1^(k+1). */
export function tempoBandOf({ bpm: beatsAMinute, noteValue }: Tempo): TempoBand {
  const edge = (place: number) => bpm(Math.round(10 * BANDS_FROM_BPM * BAND_RATIO ** place) / 10);
  let place = Math.floor(Math.log(beatsAMinute / BANDS_FROM_BPM) / Math.log(BAND_RATIO));
  // The edges are rounded: what lies between an edge and its rounding belongs to the neighbour.
  if (beatsAMinute < edge(place)) place -= 1;
  if (beatsAMinute >= edge(place + 1)) place += 1;
  return { noteValue, fromBpm: edge(place), toBpm: edge(place + 1) };
}

/** "crotchet = 90.4 to 99.5". */
export const bandInWords = ({ noteValue, fromBpm, toBpm }: TempoBand): string =>
  `${tempoInWords({ noteValue, bpm: fromBpm })} to ${toBpm}`;

/** What a player chooses of a drill without it becoming another one: how long it lasts, and the chance it was made by. */
const LENGTH_ONLY: readonly string[] = [
  "seed",
  "repeats",
  "times",
  "count",
  "roundBeats",
  "rung",
  "tune",
  "stretch",
];

/**
 * Names what was practised, whatever harp and tempo: the stretch of a tune, or a drill with its choices. Seed, length and
 * repeats do not make it another. A rung of a tune's ladder below the dance tempo does: what goes well slowly is not yet known
 * to go well fast.
 */
export function itemOf(exercise: Exercise): string {
  const { kind, position, mode, parameters } = exercise;
  const kept = Object.entries(parameters).filter(([name]) => !LENGTH_ONLY.includes(name));
  if (kind === "tune") {
    const { tune, tuneId, startTicks, endTicks, rung } = parameters;
    const name = plain(tuneId ?? tune ?? exercise.title);
    return tuneItem(name, { startTicks: plain(startTicks ?? 0), endTicks: plain(endTicks ?? 0) }, rung);
  }
  const choices = kept.map(([name, value]) => `${name}=${plain(value)}`).sort();
  const degrees = typeof mode === "string" ? mode : JSON.stringify(mode);
  return [kind, `position=${position}`, `mode=${degrees}`, ...choices].join(" ");
}

/** Names the stretch of a tune, and the rung of its ladder if that is a slow one. */
export const tuneItem = (
  tuneId: string,
  { startTicks, endTicks }: { readonly startTicks: number | string; readonly endTicks: number | string },
  rung: Parameter | undefined,
): string => `tune ${tuneId} ${startTicks}-${endTicks}${slowRung(rung)}`;

/** " at 60 %" as the ladder of a tune names its rungs; empty at the dance tempo and for what is no rung. */
function slowRung(rung: Parameter | undefined): string {
  const share = typeof rung === "string" ? / at (\d+) %$/.exec(rung)?.[1] : undefined;
  return share === undefined || share === "100" ? "" : ` at ${share} %`;
}

/** A parameter as text, the same whatever order its parts came in. */
function plain(value: Parameter): string {
  if (typeof value !== "object") return String(value);
  if (isRow(value)) return value.join(",");
  const parts = Object.entries(value).map(([name, part]) => `${name}:${plain(part)}`);
  return `{${parts.sort().join(" ")}}`;
}

const isRow = (value: object): value is readonly number[] => Array.isArray(value);

/** Names a harp by what it sounds: layout, key note, A and tuning; one tuned otherwise is not compared with it. */
export function harpKeyOf(harp: Harp): string {
  const { layout, keyNote, a4, temperament, reedOffsets } = harp;
  const tuned = temperament === undefined || temperament.kind === "equal" ? "" : ` ${digest(temperament)}`;
  const measured = reedOffsets === undefined ? "" : ` ${digest(reedOffsets)}`;
  return `${layout.id} ${digest(layout.holes)} ${harp.key} ${keyNote} A${a4}${tuned}${measured}`;
}

/** Short text that differs where the data differ (FNV-1a, 32 bits, Fowler, Noll and Vo). */
function digest(data: object): string {
  let hash = 0x811c9dc5;
  for (const character of JSON.stringify(data)) hash = Math.imul(hash ^ character.charCodeAt(0), 0x01000193);
  return (hash >>> 0).toString(36);
}

export function likeOf(exercise: Exercise, attempt: Pick<Attempt, "way" | "latencyMs" | "start">): Like {
  const delay = Math.round(attempt.latencyMs / DELAY_STEP_MS) * DELAY_STEP_MS;
  return {
    item: itemOf(exercise),
    harp: harpKeyOf(exercise.harp),
    way: attempt.way,
    tempo: tempoBandOf(exercise.tempo),
    delayMs: attempt.start.source === "found" ? "found" : milliseconds(delay),
  };
}

/** One text for all that must be alike. */
export function groupOf({ item, harp, way, tempo, delayMs }: Like): string {
  return [item, harp, way, `${tempo.noteValue} ${tempo.fromBpm}`, `delay ${delayMs}`].join(" | ");
}
