import type { ReedAction } from "../instrument/reed-actions.ts";
import { chordTab, tab } from "../instrument/tab.ts";
import { targetCents } from "../instrument/target-cents.ts";
import { EQUAL } from "../instrument/temperament.ts";
import { pitchClass } from "../pitch/note-names.ts";
import { beats, cents } from "../units.ts";
import { tooLongABreath } from "./breath-limits.ts";
import { parametersOf } from "./drill-parameters.ts";
import type { DrillSpec, MadeExercise, Running, TargetAs } from "./drill-spec.ts";
import {
  EXERCISE_SCHEMA,
  EXERCISE_VERSION,
  type Exercise,
  type ExpectedChord,
  type ExpectedNote,
  holesOf,
} from "./exercise.ts";
import { degreeNameOf, nameOf, type Reach, type Step } from "./reach.ts";
import {
  type Accents,
  EVEN,
  type NotesPerBeat,
  type Rhythm,
  shortestBeats,
  soundingBeat,
  tooShort,
} from "./rhythm.ts";

/** A step at its place on the even grid. */
export interface Placed {
  readonly step: Step;
  readonly startBeats: number;
  readonly lengthBeats: number;
  readonly calledAtBeats?: number;
  /** As long as the page shows it, where it is let go before. */
  readonly writtenBeats?: number;
  /** The step is the lowest reed of a chord. */
  readonly chord?: Omit<ExpectedChord, "besides"> & { readonly besides: readonly Step[] };
}

/** A drill thought out: what an exercise needs beyond its setting. */
export interface Plan {
  readonly title: string;
  /** One sentence. */
  readonly trains: string;
  /** By onset; may be empty only by a mistake of ours. */
  readonly placed: readonly Placed[];
  /** Given where the notes run and may be swung or accented. */
  readonly running?: Running;
  readonly caution?: string;
  readonly targetShown?: boolean;
  readonly targetAs?: TargetAs;
}

export const impossible = (reason: string): MadeExercise => ({ kind: "impossible", reason });

/** Beats to a bar where the drill does not say. */
export const barOf = (spec: DrillSpec): number =>
  spec.beatsPerBar ?? (spec.tempo.noteValue === "3/8" ? 2 : 4);

/** An exercise of a plan, or why its notes are too short or its breaths too long. */
export function layOut(spec: DrillSpec, reach: Reach, plan: Plan): MadeExercise {
  const { running } = plan;
  const written = Math.min(...plan.placed.map((one) => one.lengthBeats));
  const shortest =
    running === undefined ? written : shortestBeats(running.notesPerBeat, running.rhythm ?? EVEN);
  const reason = tooShort(shortest, spec.tempo);
  if (reason !== null) return impossible(reason);
  const notes = expectedNotes(spec, reach, plan);
  const breath = tooLongABreath(spec.kind, notes, spec.tempo);
  if (breath !== null) return impossible(`${breath.fault}: ${breath.remedy}`);
  const exercise: Exercise = {
    schema: EXERCISE_SCHEMA,
    version: EXERCISE_VERSION,
    kind: spec.kind,
    title: plan.title,
    trains: plan.trains,
    harp: spec.harp,
    position: spec.position,
    home: reach.home,
    mode: spec.mode,
    tempo: spec.tempo,
    beatsPerBar: barOf(spec),
    countInBeats: beats(spec.countInBeats),
    ...(running?.rhythm === undefined ? {} : { rhythm: running.rhythm }),
    ...(plan.caution === undefined ? {} : { caution: plan.caution }),
    ...(plan.targetShown === undefined ? {} : { targetShown: plan.targetShown }),
    ...(plan.targetAs === undefined ? {} : { targetAs: plan.targetAs }),
    parameters: parametersOf(spec),
    notes,
  };
  return { kind: "exercise", exercise };
}

function expectedNotes(spec: DrillSpec, reach: Reach, { placed, running }: Plan): readonly ExpectedNote[] {
  const described = describer(reach);
  const accents = running?.accents ?? "none";
  const bar = barOf(spec);
  return placed.map((one, index) => {
    const note: ExpectedNote = {
      index,
      ...timesOf(one, running),
      ...described(one.step),
      ...chordOf(one, described),
    };
    const called =
      one.calledAtBeats === undefined ? note : { ...note, calledAtBeats: beats(one.calledAtBeats) };
    return isAccented(one.startBeats, bar, accents) ? { ...called, accent: true } : called;
  });
}

/** What a chord adds to its lowest note. */
function chordOf({ step, chord }: Placed, described: (step: Step) => Described) {
  if (chord === undefined) return {};
  const besides = chord.besides.map((one) => {
    const { midi, targetCents: cents, noteName, action } = described(one);
    return { midi, targetCents: cents, noteName, action };
  });
  const whole = { ...chord, besides };
  return { tab: chordTab(step.action.breath, holesOf({ action: step.action, chord: whole })), chord: whole };
}

type Described = Omit<ExpectedNote, "index" | "startBeats" | "lengthBeats">;

/** What is said of a step wherever it stands, worked out once: a drill asks for few reed actions many times. */
export function describer(reach: Reach): (step: Step) => Described {
  const { harp } = reach.setting;
  const { temperament = EQUAL } = harp;
  const home = pitchClass(reach.homeClass - harp.keyNote);
  const isEqual = temperament.kind === "equal" && (temperament.stretchCentsPerOctave ?? 0) === 0;
  const known = new Map<ReedAction, Described>();
  return ({ note, action }) => {
    const before = known.get(action);
    if (before !== undefined) return before;
    const described = {
      midi: note,
      // Adding 0 turns -0 into 0: JSON has only one of them.
      targetCents: cents(isEqual ? 0 : targetCents(harp, action, home) + 0),
      noteName: nameOf(reach, note),
      degree: degreeNameOf(reach, note),
      action,
      tab: tab(action),
    };
    known.set(action, described);
    return described;
  };
}

type Times = Pick<ExpectedNote, "startBeats" | "lengthBeats" | "written">;

function timesOf(placed: Placed, running: Running | undefined): Times {
  const even = { startBeats: beats(placed.startBeats), lengthBeats: beats(placed.lengthBeats) };
  const rhythm = running?.rhythm ?? EVEN;
  if (placed.writtenBeats !== undefined)
    return { ...even, written: { ...even, lengthBeats: beats(placed.writtenBeats) } };
  if (running === undefined || running.notesPerBeat === 1 || rhythm.kind === "even") return even;
  const sounding = warped(placed, running.notesPerBeat, rhythm);
  return rhythm.kind === "swung" ? { ...sounding, written: even } : sounding;
}

function warped(placed: Placed, notesPerBeat: NotesPerBeat, rhythm: Rhythm) {
  const start = soundingBeat(placed.startBeats, notesPerBeat, rhythm);
  const end = soundingBeat(placed.startBeats + placed.lengthBeats, notesPerBeat, rhythm);
  return { startBeats: beats(start), lengthBeats: beats(end - start) };
}

function isAccented(startBeats: number, beatsPerBar: number, accents: Accents): boolean {
  const isWhole = (value: number) => Math.abs(value - Math.round(value)) < 1e-6;
  switch (accents) {
    case "none":
      return false;
    case "bars":
      return isWhole(startBeats / beatsPerBar);
    case "beats":
      return isWhole(startBeats);
    case "off-beats":
      return !isWhole(startBeats) && isWhole(2 * startBeats);
  }
}

/** Steps one after another, so many to the beat. */
export function runOn(steps: readonly Step[], notesPerBeat: NotesPerBeat, fromBeats = 0): readonly Placed[] {
  return steps.map((step, place) => ({
    step,
    startBeats: fromBeats + place / notesPerBeat,
    lengthBeats: 1 / notesPerBeat,
  }));
}

/** The first bar line at or after a beat. */
export function nextBar(atBeats: number, beatsPerBar: number): number {
  return beatsPerBar * Math.ceil(atBeats / beatsPerBar - 1e-9);
}
