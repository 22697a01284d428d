import { type ChordGrip, chordGrips } from "../instrument/chord-grips.ts";
import { harpName, reedNote } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { semitones } from "../units.ts";
import { type HeldChord, readBacking } from "./backing-chords.ts";
import { strokesOf } from "./backing-strokes.ts";
import { BREATH_CAUTION } from "./caution.ts";
import { outside } from "./check-setting.ts";
import { withoutChords } from "./chords.ts";
import type { BackingDrill, DrillSpec, MadeExercise } from "./drill-spec.ts";
import { barOf, impossible, layOut, nextBar, type Placed } from "./lay-out.ts";
import { homeAndMode, inPosition, type Reach, reachOf, type Step } from "./reach.ts";

/** The chords of a backing, each where the harp has it, struck in the rhythm of a dance; a bar of rest after each time. */
export function backingDrill(spec: DrillSpec & { kind: "backing" }): MadeExercise {
  const reach = reachOf(spec);
  const reason =
    outside("the repeats", spec.repeats, 1, 32) ??
    outside("the holes of a chord", spec.mostHoles, 2, 4) ??
    numeralsWithoutChords(spec, reach);
  if (reason !== null) return impossible(reason);
  const read = readBacking(reach, spec.chords, barOf(spec));
  if (read.kind === "unreadable") return impossible(read.reason);
  const grips = gripsFor(spec, read.chords);
  if (typeof grips === "string") return impossible(grips);
  const placed = placeChords(spec, read.chords, grips);
  const partial = partialWords(read.chords, grips);
  const names = namesInWords(read.chords);
  return layOut(spec, reach, {
    title: `${names} in ${homeAndMode(reach)}, backing`,
    trains: `Backing with ${names} ${inPosition(reach)}, all the holes of each chord and none else, on the beat${partial}.`,
    placed,
    caution: BREATH_CAUTION,
  });
}

/** Chord symbols stand for themselves; numerals need a mode with chords. */
function numeralsWithoutChords({ chords }: BackingDrill, reach: Reach): string | null {
  return /(^|[\s\-–,|])[b#]*[ivIV]/.test(chords) ? withoutChords(reach) : null;
}

/** Chords told at once; the rest of a long backing is not named. */
const MOST_NAMED = 8;

function namesInWords(chords: readonly HeldChord[]): string {
  const names = chords.map(({ name }) => name).filter((name, place, all) => name !== all[place - 1]);
  return names.length > MOST_NAMED ? `${names.slice(0, MOST_NAMED).join("-")}-…` : names.join("-");
}

/** One grip a chord, null where it is left out, or why the harp cannot give the backing. */
function gripsFor(spec: BackingDrill, chords: readonly HeldChord[]): readonly (ChordGrip | null)[] | string {
  const choices: (readonly ChordGrip[])[] = [];
  for (const chord of chords) {
    const all = chordGrips(spec.harp, chord, spec.mostHoles);
    const fit = spec.partial ? all : all.filter(({ lacks }) => lacks.length === 0);
    if (fit.length === 0 && !spec.partial) return explainLacking(spec, chord, all);
    choices.push(fit);
  }
  const [first] = chords;
  if (first !== undefined && choices.every((fit) => fit.length === 0)) return explainLacking(spec, first, []);
  const nearest = nearestGrips(choices.filter((fit) => fit.length > 0));
  let next = 0;
  return choices.map((fit) => (fit.length === 0 ? null : (nearest[next++] ?? null)));
}

function explainLacking(
  { harp, mostHoles }: BackingDrill,
  chord: HeldChord,
  all: readonly ChordGrip[],
): string {
  const where = `on up to ${mostHoles} neighbouring holes of one breath`;
  const best = all.reduce<ChordGrip | null>(
    (least, grip) => (least === null || grip.lacks.length < least.lacks.length ? grip : least),
    null,
  );
  const part =
    best === null ? "" : `; without its ${best.lacks.join(" and ")} it has it: allow partial chords`;
  return `the ${harpName(harp)} has no ${chord.name} ${where}${part}`;
}

/** What a chord that lacks a note costs, and one of two holes where three sound it, in holes of way. */
const LACKING_COST = 20;
const HIGH_COST = 0.25;

/**
 * Whole chords before partial ones, full ones before thin ones, then the shortest way from grip to grip, low on the harp
 * where there is a choice. Exact: the least sum along the row of chords.
 */
function nearestGrips(choices: readonly (readonly ChordGrip[])[]): readonly ChordGrip[] {
  let paths: readonly { readonly grips: readonly ChordGrip[]; readonly cost: number }[] = [
    { grips: [], cost: 0 },
  ];
  for (const fit of choices) {
    paths = fit.map((grip) => {
      const ways = paths.map(({ grips, cost }) => ({
        grips: [...grips, grip],
        cost: cost + ownCost(grip) + wayTo(grips.at(-1), grip),
      }));
      return ways.reduce((best, next) => (next.cost < best.cost - 1e-9 ? next : best));
    });
  }
  return paths.reduce((best, next) => (next.cost < best.cost - 1e-9 ? next : best)).grips;
}

const ownCost = ({ lacks, holes }: ChordGrip) =>
  LACKING_COST * lacks.length - 2 * holes.length + HIGH_COST * (holes[0] ?? 0);
const middleOf = ({ holes }: ChordGrip) => ((holes[0] ?? 0) + (holes.at(-1) ?? 0)) / 2;
const wayTo = (from: ChordGrip | undefined, to: ChordGrip) =>
  from === undefined ? 0 : Math.abs(middleOf(to) - middleOf(from));

function placeChords(
  spec: DrillSpec & BackingDrill,
  chords: readonly HeldChord[],
  grips: readonly (ChordGrip | null)[],
): readonly Placed[] {
  const placed: Placed[] = [];
  let at = 0;
  for (let time = 0; time < spec.repeats; time++) {
    for (const [place, chord] of chords.entries()) {
      placed.push(...placeChord(spec, chord, grips[place] ?? null, at));
      at += chord.beats;
    }
    at = nextBar(at, barOf(spec)) + barOf(spec);
  }
  return placed;
}

/** The strokes of a chord; a rest where the harp does not have it. */
function placeChord(
  spec: BackingDrill,
  chord: HeldChord,
  grip: ChordGrip | null,
  fromBeats: number,
): readonly Placed[] {
  const [lowest, ...besides] = grip === null ? [] : stepsOf(spec, grip);
  if (grip === null || lowest === undefined) return [];
  return strokesOf(spec.strokes, fromBeats, chord.beats).map((stroke) => ({
    ...stroke,
    step: lowest,
    chord: { name: chord.name, lacks: grip.lacks, besides },
  }));
}

function stepsOf({ harp }: BackingDrill, { breath, holes }: ChordGrip): readonly Step[] {
  return holes.flatMap((hole) => {
    const note = reedNote(harp, hole, breath);
    const action: ReedAction = { hole, breath, technique: "plain", bentSemitones: semitones(0) };
    return note === null ? [] : [{ note, action }];
  });
}

/** "; on this harp F without its fifth, no A". */
function partialWords(chords: readonly HeldChord[], grips: readonly (ChordGrip | null)[]): string {
  const told = chords.flatMap((chord, place) => {
    const grip = grips[place] ?? null;
    if (grip === null) return [`no ${chord.name}`];
    return grip.lacks.length === 0 ? [] : [`${chord.name} without its ${grip.lacks.join(" and ")}`];
  });
  return told.length === 0 ? "" : `; on this harp ${[...new Set(told)].join(", ")}`;
}
