import type { Harp } from "../instrument/harp.ts";
import { harpName } from "../instrument/harp.ts";
import { type Position, positionHome, positionHomeName, positionName } from "../instrument/positions.ts";
import { type Abilities, actionsForNote, holesAsValue, type ReedAction } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import { type Degree, type ModeName, modeDegrees, spellMode } from "../pitch/modes.ts";
import { noteName, pitchClass } from "../pitch/note-names.ts";
import { beats, cents, type Midi, midi } from "../units.ts";
import { EXERCISE_SCHEMA, EXERCISE_VERSION, type Exercise, type ExpectedNote } from "./exercise.ts";
import type { Tempo } from "./tempo.ts";

export type Direction = "up" | "down" | "both";
/** Which home note to begin on: the one that needs the fewest bends, or the lowest that can be played. */
export type Start = "easiest" | "lowest";

export interface ScaleDrill {
  readonly harp: Harp;
  readonly position: Position;
  readonly mode: ModeName;
  readonly octaves: 1 | 2;
  readonly direction: Direction;
  readonly start: Start;
  readonly tempo: Tempo;
  readonly notesPerBeat: 1 | 2 | 3 | 4;
  readonly countInBeats: number;
  readonly abilities: Abilities;
}

export type MadeExercise =
  | { readonly kind: "exercise"; readonly exercise: Exercise }
  | { readonly kind: "impossible"; readonly reason: string };

/** A note of the scale with the reed action that sounds it. */
interface Step {
  readonly note: Midi;
  readonly degree: string;
  readonly action: ReedAction;
}

/** Shorter notes than this cannot be marked: the ear of this program needs about 40 ms of settled tone after the attack. */
export const SHORTEST_NOTE_SECONDS = 0.1;

/**
 * A scale in a position, as a player practises it.
 *
 * @returns the exercise, or in words why this harp and player cannot sound it
 */
export function makeScaleDrill(drill: ScaleDrill): MadeExercise {
  const noteSeconds = 60 / drill.tempo.bpm / drill.notesPerBeat;
  if (noteSeconds < SHORTEST_NOTE_SECONDS - 1e-9) {
    return {
      kind: "impossible",
      reason: `notes would last ${Math.round(noteSeconds * 1000)} ms; the shortest that can be marked last ${SHORTEST_NOTE_SECONDS * 1000} ms: take a slower tempo or fewer notes to the beat`,
    };
  }
  const rising = findScale(drill);
  if ("missing" in rising) return { kind: "impossible", reason: explainMissing(drill, rising.missing) };
  return { kind: "exercise", exercise: layOut(drill, inDirection(rising.steps, drill.direction)) };
}

type FoundScale = { readonly steps: readonly Step[] } | { readonly missing: readonly Midi[] };

function findScale(drill: ScaleDrill): FoundScale {
  const tries = startNotes(drill).map((start) => scaleFrom(drill, start));
  const whole = tries.filter((found) => "steps" in found);
  if (whole.length === 0) return nearestMiss(tries);
  if (drill.start === "lowest") return whole[0] ?? { missing: [] };
  return whole.reduce((best, next) => (bentNotes(next.steps) < bentNotes(best.steps) ? next : best));
}

/** Home notes from the harp's lowest reed up, lowest first. */
function startNotes(drill: ScaleDrill): readonly Midi[] {
  const home = positionHome(drill.harp, drill.position);
  const reeds = drill.harp.layout.holes
    .flatMap((hole) => [hole.blow, hole.draw])
    .filter((reed) => reed !== null);
  const low = drill.harp.keyNote + Math.min(...reeds) - 1;
  const high = drill.harp.keyNote + Math.max(...reeds) - 12 * drill.octaves + 1;
  const found: Midi[] = [];
  for (let note = low; note <= high; note++) if (pitchClass(note) === home) found.push(midi(note));
  return found;
}

function scaleFrom(drill: ScaleDrill, start: Midi): FoundScale {
  const steps: Step[] = [];
  const missing: Midi[] = [];
  for (const { note, degree } of risingNotes(start, modeDegrees(drill.mode), drill.octaves)) {
    const action = actionsForNote(drill.harp, note, drill.abilities)[0];
    if (action === undefined) missing.push(note);
    else steps.push({ note, degree, action });
  }
  return missing.length > 0 ? { missing } : { steps };
}

function risingNotes(start: Midi, degrees: readonly Degree[], octaves: number) {
  const notes = Array.from({ length: octaves }, (_, octave) =>
    degrees.map((degree) => ({ note: midi(start + 12 * octave + degree.aboveHome), degree: degree.name })),
  ).flat();
  return [...notes, { note: midi(start + 12 * octaves), degree: "1" }];
}

const bentNotes = (steps: readonly Step[]) =>
  steps.filter((step) => step.action.technique !== "plain").length;

function nearestMiss(tries: readonly FoundScale[]): FoundScale {
  const misses = tries.flatMap((found) => ("missing" in found ? [found.missing] : []));
  return { missing: misses.reduce((a, b) => (b.length < a.length ? b : a), misses[0] ?? []) };
}

function explainMissing(drill: ScaleDrill, missing: readonly Midi[]): string {
  const what = `${octavesInWords(drill.octaves)} of ${homeAndMode(drill)} in ${positionName(drill.position)} position on a ${harpName(drill.harp)}`;
  if (missing.length === 0) return `${what}: the harp has no room for that range`;
  const spelled = spellMode(positionHomeName(drill.harp, drill.position), drill.mode);
  const names = missing.map((note) => noteName(note, spelled)).join(", ");
  const means = drill.abilities.bends ? "without overblows" : "without bends";
  return `${what} cannot be sounded ${means}: no ${names}`;
}

function inDirection(rising: readonly Step[], direction: Direction): readonly Step[] {
  const falling = [...rising].reverse();
  if (direction === "up") return rising;
  return direction === "down" ? falling : [...rising, ...falling.slice(1)];
}

function layOut(drill: ScaleDrill, steps: readonly Step[]): Exercise {
  const home = positionHomeName(drill.harp, drill.position);
  const spelled = spellMode(home, drill.mode);
  const notes: ExpectedNote[] = steps.map((step, index) => ({
    index,
    startBeats: beats(index / drill.notesPerBeat),
    lengthBeats: beats(1 / drill.notesPerBeat),
    midi: step.note,
    targetCents: cents(0),
    noteName: noteName(step.note, spelled),
    degree: step.degree,
    action: step.action,
    tab: tab(step.action),
  }));
  return {
    schema: EXERCISE_SCHEMA,
    version: EXERCISE_VERSION,
    kind: "scale",
    title: `${homeAndMode(drill)} scale, ${octavesInWords(drill.octaves)}, ${DIRECTION_WORDS[drill.direction]}`,
    trains: describeTraining(drill, steps),
    harp: drill.harp,
    position: drill.position,
    home,
    mode: drill.mode,
    tempo: drill.tempo,
    beatsPerBar: drill.tempo.noteValue === "3/8" ? 2 : 4,
    countInBeats: beats(drill.countInBeats),
    parameters: {
      octaves: drill.octaves,
      direction: drill.direction,
      start: drill.start,
      notesPerBeat: drill.notesPerBeat,
      bends: holesAsValue(drill.abilities.bends),
      overbends: holesAsValue(drill.abilities.overbends),
    },
    notes,
  };
}

const DIRECTION_WORDS: Readonly<Record<Direction, string>> = { up: "up", down: "down", both: "up and down" };

function describeTraining(drill: ScaleDrill, steps: readonly Step[]): string {
  const bends = [
    ...new Set(steps.filter((step) => step.action.technique !== "plain").map((step) => tab(step.action))),
  ];
  const path = `The breath path of ${homeAndMode(drill)} in ${positionName(drill.position)} position`;
  return bends.length === 0 ? `${path}, all plain notes.` : `${path}, with ${bends.join(" and ")} in tune.`;
}

const homeAndMode = (drill: ScaleDrill) => `${positionHomeName(drill.harp, drill.position)} ${drill.mode}`;
const octavesInWords = (octaves: number) => (octaves === 1 ? "one octave" : "two octaves");
