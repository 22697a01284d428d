import { dbfs, seconds } from "../../units.ts";
import { decibels } from "../decibels.ts";
import { DropoutMender } from "../dropout-mender.ts";
import { HalfBand } from "../half-band.ts";
import { type ChordReed, type Grip, gripsOf, octavesBesides } from "./chord-reeds.ts";
import { type WeighedGrip, weighGrips } from "./grip-finder.ts";
import type { HeardChord, UnsureReason } from "./heard-chord.ts";
import { attackOf, struckDb } from "./stroke-attack.ts";
import { findStrokes, type Stroke } from "./stroke-finder.ts";
import { strokeSpectrum } from "./stroke-spectrum.ts";

/** Rates from here on are halved: reeds have nothing to say above 10 kHz. */
const HALVED_FROM_HZ = 40_000;
/** The attack of a reed is no tone yet. */
const ATTACK_SECONDS = 0.03;
const END_SECONDS = 0.008;
const LONGEST_SECONDS = 0.4;
const SHORTEST_SECONDS = 0.045;
/** Strokes this close are one breath. */
const TOUCHING_SECONDS = 0.05;
/** A chord is struck anew where all its reeds have risen by this much on the whole. */
const STRUCK_DB = 4;
/** What is explained no better than this much beyond the next best is not sure. */
const SURE_MARGIN = 0.35;

/**
 * The chords of a take: where reeds began to sound together, and which.
 *
 * @param samples one channel, -1..1
 * @param reeds   plain reeds of the harp in hand
 */
export function hearChords(
  samples: Float32Array,
  sampleRateHz: number,
  reeds: readonly ChordReed[],
): readonly HeardChord[] {
  const { halved, rateHz } = intake(samples, sampleRateHz);
  const grips = gripsOf(reeds);
  const heard: HeardChord[] = [];
  for (const stroke of findStrokes(halved, rateHz)) {
    const chord = hearStroke(halved, rateHz, stroke, grips, reeds);
    const sounding = soundingIn(chord, reeds);
    const before = heard.at(-1);
    const goesOn = before !== undefined && isSameChord(before, chord) && touches(before, stroke);
    if (goesOn && struckDb(halved, rateHz, stroke.fromSeconds, sounding) < STRUCK_DB) {
      heard[heard.length - 1] = { ...before, offSeconds: chord.offSeconds };
      continue;
    }
    const onSeconds = attackOf(halved, rateHz, stroke.fromSeconds, sounding);
    heard.push({ ...chord, onSeconds: seconds(onSeconds) });
  }
  return heard;
}

function soundingIn(chord: HeardChord, reeds: readonly ChordReed[]): readonly ChordReed[] {
  return reeds.filter(({ breath, hole }) => breath === chord.breath && chord.holes.includes(hole));
}

const isSameChord = (before: HeardChord, chord: HeardChord) =>
  before.breath === chord.breath && chord.holes.length > 0 && String(before.holes) === String(chord.holes);

const touches = (before: HeardChord, stroke: Stroke) =>
  stroke.fromSeconds - before.offSeconds < TOUCHING_SECONDS;

function intake(samples: Float32Array, sampleRateHz: number) {
  const mender = new DropoutMender(sampleRateHz);
  const head = Float64Array.from(mender.push(samples));
  const tail = Float64Array.from(mender.finish());
  let whole = new Float64Array(head.length + tail.length);
  whole.set(head);
  whole.set(tail, head.length);
  let rateHz = sampleRateHz;
  while (rateHz >= HALVED_FROM_HZ) {
    whole = halve(whole);
    rateHz /= 2;
  }
  return { halved: whole, rateHz };
}

function halve(samples: Float64Array): Float64Array<ArrayBuffer> {
  const half = new HalfBand();
  const head = Float64Array.from(half.push(samples));
  const tail = Float64Array.from(half.finish());
  const out = new Float64Array(head.length + tail.length);
  out.set(head);
  out.set(tail, head.length);
  return out;
}

function hearStroke(
  samples: Float64Array,
  rateHz: number,
  stroke: Stroke,
  grips: readonly Grip[],
  reeds: readonly ChordReed[],
): HeardChord {
  const from = stroke.fromSeconds + ATTACK_SECONDS;
  const to = Math.min(stroke.toSeconds - END_SECONDS, from + LONGEST_SECONDS);
  const steady = samples.subarray(Math.round(from * rateHz), Math.max(0, Math.round(to * rateHz)));
  const common = {
    onSeconds: seconds(stroke.fromSeconds),
    offSeconds: seconds(stroke.toSeconds),
    levelDbfs: dbfs(decibels(steady.reduce((sum, x) => sum + x * x, 0) / Math.max(1, steady.length))),
  };
  if (to - from < SHORTEST_SECONDS) return { ...common, ...nothing("too short") };
  const spectrum = strokeSpectrum(steady, rateHz);
  if (spectrum.peaks.length === 0) return { ...common, ...nothing("too quiet") };
  return { ...common, ...decide(weighGrips(grips, spectrum), reeds) };
}

type Said = Pick<HeardChord, "breath" | "holes" | "unsureHoles" | "octaveHoles" | "unsure">;

const nothing = (unsure: UnsureReason): Said => ({
  breath: null,
  holes: [],
  unsureHoles: [],
  octaveHoles: [],
  unsure,
});

function decide(weighed: readonly WeighedGrip[], reeds: readonly ChordReed[]): Said {
  const [best] = weighed;
  if (best === undefined || best.score <= 0) return nothing("no reeds of this harp");
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
