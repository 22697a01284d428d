import type { Dbfs, Seconds } from "../units.ts";
import type { Listening } from "./listening.ts";
import { median } from "./median.ts";

/** What keeps a set-up from hearing a player well. */
export type SetUpFault =
  | { readonly kind: "nothing heard" }
  | { readonly kind: "few notes"; readonly heard: number }
  | { readonly kind: "too quiet"; readonly levelDbfs: Dbfs }
  | { readonly kind: "clipping"; readonly clippedShare: number }
  /** The notes stand so little above the noise, in decibels. */
  | { readonly kind: "noise"; readonly aboveDb: number }
  /** Held notes are cut off, as noise suppression does with what does not change. */
  | { readonly kind: "held notes break off"; readonly longestSeconds: Seconds }
  | { readonly kind: "dropouts"; readonly dropouts: number };

/** What was measured on the test phrase. */
export interface SetUpReport {
  readonly faults: readonly SetUpFault[];
  readonly notes: number;
  /** Middle level of the notes; null without any. */
  readonly levelDbfs: Dbfs | null;
  readonly noiseFloorDbfs: Dbfs;
}

export interface PhraseTake {
  readonly listening: Listening;
  /** Samples that never came. */
  readonly lostSamples: number;
  /** Holes in the recording: see `countDropouts`. */
  readonly dropouts: number;
}

/** The quietest take that holds more than the noise of a 16-bit converter, which peaks near -90 dBFS. */
const SILENCE_PEAK_DBFS = -80;
/** Of a phrase of two long notes and eight quick ones, so many must be heard. */
const LEAST_NOTES = 6;
/** Softer notes are marked less surely; the sheet calls them too quiet as well [P]. */
const LEAST_LEVEL_DBFS = -50;
/** With the notes 20 dB above the noise nothing was marked wrongly in the benches; below, errors begin [P built on these]. */
const LEAST_ABOVE_NOISE_DB = 20;
/** More than a few stray samples, 1 in 10,000, bend the waveform. */
const MOST_CLIPPED_SHARE = 0.0001;
/** A long note of the phrase is held for two seconds; half of that must come through in one piece. */
const LEAST_HELD_SECONDS = 1;

/** Judges a set-up by the test phrase played on it: two long notes, then eight quick ones, within ten seconds. */
export function judgeSetUp({ listening, lostSamples, dropouts }: PhraseTake): SetUpReport {
  const { notes, noiseFloorDbfs } = listening;
  const levelDbfs = notes.length === 0 ? null : (median(notes.map((note) => note.levelDbfs)) as Dbfs);
  const found = { notes: notes.length, levelDbfs, noiseFloorDbfs };
  if (!(listening.peakDbfs > SILENCE_PEAK_DBFS)) return { ...found, faults: [{ kind: "nothing heard" }] };
  const faults: SetUpFault[] = [];
  if (notes.length < LEAST_NOTES) faults.push({ kind: "few notes", heard: notes.length });
  if (levelDbfs !== null && levelDbfs < LEAST_LEVEL_DBFS) faults.push({ kind: "too quiet", levelDbfs });
  if (listening.clippedShare > MOST_CLIPPED_SHARE)
    faults.push({ kind: "clipping", clippedShare: listening.clippedShare });
  const aboveDb = levelDbfs === null ? 0 : levelDbfs - noiseFloorDbfs;
  if (levelDbfs !== null && aboveDb < LEAST_ABOVE_NOISE_DB) faults.push({ kind: "noise", aboveDb });
  const longestSeconds = Math.max(0, ...notes.map((note) => note.offSeconds - note.onSeconds)) as Seconds;
  if (notes.length >= LEAST_NOTES && longestSeconds < LEAST_HELD_SECONDS)
    faults.push({ kind: "held notes break off", longestSeconds });
  const holes = dropouts + (lostSamples > 0 ? 1 : 0);
  if (holes > 0) faults.push({ kind: "dropouts", dropouts: holes });
  return { ...found, faults };
}
