import { dbfs, seconds } from "../../units.ts";
import { decibels } from "../decibels.ts";
import { type ChordReed, type Grip, gripsOf, octavesBesides } from "./chord-reeds.ts";
import { type ChordSound, chordSound } from "./chord-sound.ts";
import { type WeighedGrip, weighGrips } from "./grip-finder.ts";
import type { HeardChord, UnsureReason } from "./heard-chord.ts";
import { attackOf, struckDb } from "./stroke-attack.ts";
import { findStrokes, type Stroke } from "./stroke-finder.ts";
import { type StrokeSpectrum, strokeSpectrum } from "./stroke-spectrum.ts";

/** The attack of a reed is no tone yet ... */
const ATTACK_SECONDS = 0.03;
/** ... nor is the beginning its own in a room, where the stroke before still rings. */
const SETTLED_SHARE = 0.3;
const END_SECONDS = 0.008;
const LONGEST_SECONDS = 0.4;
const SHORTEST_SECONDS = 0.045;
/** So long after its end a stroke may still be heard in a room. */
const RINGING_SECONDS = 0.3;
/** What is explained no better than this much beyond the next best is not sure. */
const SURE_MARGIN = 0.35;
/** What explains less is no reed of this harp: noise, a knock, a voice. */
const LEAST_SCORE = 1.5;
/** Strokes this close are one breath. */
const TOUCHING_SECONDS = 0.05;
/** A chord is struck anew where all its reeds have risen by this much on the whole. */
const STRUCK_DB = 2;

/**
 * The chords of a take: where reeds began to sound together, and which. Known reeds alone are looked for, at their own
 * pitch; what they cannot explain is not sure.
 *
 * @param samples one channel, -1..1
 * @param reeds   plain reeds of the harp in hand
 */
export function hearChords(
  samples: Float32Array,
  sampleRateHz: number,
  reeds: readonly ChordReed[],
): readonly HeardChord[] {
  const sound = chordSound(samples, sampleRateHz);
  const ear = { sound, reeds, grips: gripsOf(reeds) };
  const heard: HeardChord[] = [];
  let last: { readonly stroke: Stroke; readonly spectrum: StrokeSpectrum | null } | null = null;
  for (const stroke of findStrokes(sound.samples, sound.rateHz)) {
    const rings = last !== null && stroke.fromSeconds - last.stroke.toSeconds < RINGING_SECONDS;
    const spectrum = spectrumOf(sound, stroke);
    const chord = hearStroke(ear, stroke, spectrum, rings ? (last?.spectrum ?? null) : null);
    last = { stroke, spectrum };
    if (chord === null) continue;
    const before = heard.at(-1);
    if (before !== undefined && goesOn(ear, before, chord, stroke))
      heard[heard.length - 1] = { ...before, offSeconds: chord.offSeconds };
    else heard.push({ ...chord, onSeconds: seconds(onsetOf(ear, chord, stroke)) });
  }
  return heard;
}

interface Ear {
  readonly sound: ChordSound;
  readonly reeds: readonly ChordReed[];
  readonly grips: readonly Grip[];
}

function onsetOf({ sound, reeds }: Ear, chord: HeardChord, stroke: Stroke): number {
  return attackOf(sound.samples, sound.rateHz, stroke.fromSeconds, soundingIn(chord, reeds));
}

/** Whether a chord is the one before, going on: its reeds beat against each other, and nothing was struck. */
function goesOn({ sound, reeds }: Ear, before: HeardChord, chord: HeardChord, stroke: Stroke): boolean {
  const same =
    before.breath === chord.breath &&
    chord.holes.length > 0 &&
    String(before.holes) === String(chord.holes) &&
    stroke.fromSeconds - before.offSeconds < TOUCHING_SECONDS;
  if (!same) return false;
  const sounding = soundingIn(chord, reeds);
  return struckDb(sound.samples, sound.rateHz, stroke.fromSeconds, sounding) < STRUCK_DB;
}

function soundingIn(chord: HeardChord, reeds: readonly ChordReed[]): readonly ChordReed[] {
  return reeds.filter(({ breath, hole }) => breath === chord.breath && chord.holes.includes(hole));
}

/** Samples of the settled part of a stroke. */
function steadyPart({ samples, rateHz }: ChordSound, { fromSeconds, toSeconds }: Stroke): Float64Array {
  const to = toSeconds - END_SECONDS;
  const settled = fromSeconds + Math.max(ATTACK_SECONDS, SETTLED_SHARE * (toSeconds - fromSeconds));
  const from = Math.max(settled, to - LONGEST_SECONDS);
  return samples.subarray(Math.round(from * rateHz), Math.max(0, Math.round(to * rateHz)));
}

/** Null for a stroke too short to tell its reeds apart. */
function spectrumOf(sound: ChordSound, stroke: Stroke): StrokeSpectrum | null {
  const steady = steadyPart(sound, stroke);
  return steady.length < SHORTEST_SECONDS * sound.rateHz ? null : strokeSpectrum(steady, sound.rateHz);
}

/** Null where no reed sounds. */
function hearStroke(
  { sound, reeds, grips }: Ear,
  stroke: Stroke,
  spectrum: StrokeSpectrum | null,
  before: StrokeSpectrum | null,
): HeardChord | null {
  const steady = steadyPart(sound, stroke);
  const power = steady.reduce((sum, x) => sum + x * x, 0) / Math.max(1, steady.length);
  const common = {
    onSeconds: seconds(stroke.fromSeconds),
    offSeconds: seconds(stroke.toSeconds),
    levelDbfs: dbfs(decibels(power)),
  };
  if (spectrum === null) return { ...common, ...nothing("too short") };
  const weighed = weighGrips(grips, spectrum, before);
  const [best] = weighed;
  if (best === undefined || best.score < LEAST_SCORE) return null;
  return { ...common, ...decide(best, weighed, reeds) };
}

type Said = Pick<HeardChord, "breath" | "holes" | "unsureHoles" | "octaveHoles" | "unsure">;

const nothing = (unsure: UnsureReason): Said => ({
  breath: null,
  holes: [],
  unsureHoles: [],
  octaveHoles: [],
  unsure,
});

/** What all grips that explain the sound about as well as the best have in common is sure. */
function decide(best: WeighedGrip, weighed: readonly WeighedGrip[], reeds: readonly ChordReed[]): Said {
  const fits = weighed.filter(({ score }) => score > best.score - SURE_MARGIN);
  const breaths = new Set(fits.map(({ grip }) => grip[0]?.breath));
  if (breaths.size > 1) return nothing("more than one chord fits");
  const holesOf = ({ grip }: WeighedGrip) => grip.map(({ hole }) => hole);
  const all = [...new Set(fits.flatMap(holesOf))].sort((a, b) => a - b);
  const sure = all.filter((hole) => fits.every((one) => holesOf(one).includes(hole)));
  return {
    breath: best.grip[0]?.breath ?? null,
    holes: sure,
    unsureHoles: all.filter((hole) => !sure.includes(hole)),
    octaveHoles: octavesBesides(best.grip, reeds).map(({ hole }) => hole),
    unsure: fits.length > 1 ? "more than one chord fits" : null,
  };
}
