import type { Harp } from "../instrument/harp.ts";
import { positionOfHome } from "../instrument/positions.ts";
import type { Abilities, ReedAction } from "../instrument/reed-actions.ts";
import { pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import type { TuneDance } from "../tune/dances.ts";
import type { Span } from "../tune/phrases.ts";
import { FASTEST, type NoteValue, SLOWEST, semibreves, type Tempo, tempoInWords } from "../tune/tempo.ts";
import { type Metre, TICKS_PER_SEMIBREVE, type Tune, type TuneNote } from "../tune/tune.ts";
import { type Beats, beats, bpm, midi } from "../units.ts";
import { DANCE_GRIDS, type Dance } from "./dance-grids.ts";
import type { MadeExercise } from "./drill-spec.ts";
import { type ChordAt, EXERCISE_SCHEMA, EXERCISE_VERSION, type ExpectedNote } from "./exercise.ts";
import { describer, impossible } from "./lay-out.ts";
import { type Reach, reachOf } from "./reach.ts";
import { EVEN, type NotesPerBeat, type Rhythm, soundingBeat } from "./rhythm.ts";
import { withShortNotesTold } from "./short-notes.ts";

/** A stretch of a tune as an exercise is made from it. */
export interface TuneSetting {
  readonly tune: Tune;
  /** What the stretch is called: "A 1–4". */
  readonly words: string;
  readonly span: Span;
  readonly harp: Harp;
  /** Semitones every note is moved up. */
  readonly shift: number;
  /** The reed action of each note of the tune, as many as it has; null where the harp lacks it. */
  readonly actions: readonly (ReedAction | null)[];
  readonly abilities: Abilities;
  readonly tempo: Tempo;
  /** How notes that share a beat divide it. */
  readonly rhythm: Rhythm;
  readonly countInBeats: number;
  /** How often the stretch is played on end, 1 to 16. */
  readonly times: number;
  /** Which tune and which rung of its ladder, for the history. */
  readonly of?: { readonly tuneId: string; readonly rung: string };
}

/** The note value a metre is felt in: dotted crotchets in 6/8, minims in the dances of two beats, else its own unit. */
export function beatOf(metre: Metre | null, tempo: Tempo): NoteValue {
  if (metre === null) return tempo.noteValue;
  const { beats: count, unit } = metre;
  if (unit === 8 && count % 3 === 0) return "3/8";
  if (unit === 2) return "1/2";
  if (unit === 4) return count === 4 && tempo.noteValue === "1/2" ? "1/2" : "1/4";
  return "1/8";
}

/** The same speed counted in another note value. */
export function tempoIn(tempo: Tempo, noteValue: NoteValue): Tempo {
  const factor = semibreves(tempo.noteValue) / semibreves(noteValue);
  return { noteValue, bpm: (tempo.bpm * factor) as Tempo["bpm"] };
}

/** Running notes to the beat of each note value: what a swing divides. */
const RUNNING: Readonly<Record<NoteValue, NotesPerBeat>> = { "3/8": 3, "1/2": 4, "1/4": 2, "1/8": 1 };

/**
 * A stretch of a tune on a harp, as an exercise. Notes the harp lacks are left out and named in what it trains, and so is how
 * many are too short to be heard for certain; where the harp lacks all of them it cannot be made.
 */
export function tuneExercise(setting: TuneSetting): MadeExercise {
  const { tune, span, harp, actions, times } = setting;
  const within = tune.notes.filter(
    (note) => note.startTicks >= span.startTicks && note.startTicks < span.endTicks,
  );
  if (within.length === 0) return impossible(`${setting.words} of ${tune.title} holds no notes`);
  const lacking = within.filter((note) => (actions[note.index] ?? null) === null);
  if (lacking.length === within.length)
    return impossible(`the ${harp.key} harp has none of the notes of ${setting.words}`);
  const grid = gridOf(setting);
  const reach = reachOf({ ...setting, ...placeOf(setting), tempo: grid.tempo });
  const once = notesOnce(setting, within, grid, reach);
  const notes = Array.from({ length: times }, (_, time) =>
    once.map((note) => later(note, time * grid.period)),
  )
    .flat()
    .map((note, index) => ({ ...note, index }));
  const chords = chordsOf(setting, grid);
  return {
    kind: "exercise",
    exercise: withShortNotesTold({
      schema: EXERCISE_SCHEMA,
      version: EXERCISE_VERSION,
      kind: "tune",
      title: `${tune.title}, ${setting.words}`,
      trains: trains(setting, lacking) + heldTempo(setting, grid),
      harp,
      position: reach.position,
      home: reach.home,
      mode: reach.setting.mode,
      tempo: grid.tempo,
      beatsPerBar: grid.beatsPerBar,
      countInBeats: beats(setting.countInBeats),
      ...(setting.rhythm.kind === "even" ? {} : { rhythm: setting.rhythm }),
      parameters: parametersOf(setting),
      ...(chords.length === 0 ? {} : { chords }),
      notes,
    }),
  };
}

interface Grid {
  readonly tempo: Tempo;
  readonly ticksPerBeat: number;
  readonly beatsPerBar: number;
  /** Where the stretch begins, so that bar lines fall on whole bars. */
  readonly leadBeats: number;
  /** Beats from one time through to the next. */
  readonly period: number;
}

/** As fast or slow as an exercise may be: a share of a slow dance, or quavers counted, may lie beyond. */
const withinLimits = (tempo: Tempo): Tempo => ({
  ...tempo,
  bpm: bpm(Math.min(FASTEST, Math.max(SLOWEST, tempo.bpm))),
});

function gridOf({ tune, span, tempo }: TuneSetting): Grid {
  const counted = withinLimits(tempoIn(tempo, beatOf(tune.metre, tempo)));
  const ticksPerBeat = semibreves(counted.noteValue) * TICKS_PER_SEMIBREVE;
  const beatsPerBar = barBeats(tune.metre, counted.noteValue);
  const barLine = tune.bars.find((bar) => bar.startTicks >= span.startTicks && bar.kind !== "pick-up");
  const upbeat = barLine === undefined ? 0 : (barLine.startTicks - span.startTicks) / ticksPerBeat;
  const whole = (length: number) => beatsPerBar * Math.ceil(length / beatsPerBar - 1e-9);
  return {
    tempo: counted,
    ticksPerBeat,
    beatsPerBar,
    leadBeats: whole(upbeat) - upbeat,
    period: whole((span.endTicks - span.startTicks) / ticksPerBeat),
  };
}

function barBeats(metre: Metre | null, noteValue: NoteValue): number {
  if (metre === null) return 4;
  const count = metre.beats / metre.unit / semibreves(noteValue);
  return Number.isInteger(count) && count >= 1 && count <= 16 ? count : 1;
}

type Unnumbered = Omit<ExpectedNote, "index">;

function notesOnce(
  setting: TuneSetting,
  within: readonly TuneNote[],
  grid: Grid,
  reach: Reach,
): readonly Unnumbered[] {
  const { span, actions, shift, rhythm } = setting;
  const described = describer(reach);
  const perBeat = RUNNING[grid.tempo.noteValue];
  const end = grid.leadBeats + (span.endTicks - span.startTicks) / grid.ticksPerBeat;
  return within.flatMap((note) => {
    const action = actions[note.index] ?? null;
    if (action === null) return [];
    const start = grid.leadBeats + (note.startTicks - span.startTicks) / grid.ticksPerBeat;
    const until = Math.min(end, start + note.lengthTicks / grid.ticksPerBeat);
    const sounds = [soundingBeat(start, perBeat, rhythm), soundingBeat(until, perBeat, rhythm)] as const;
    const even = { startBeats: beats(start), lengthBeats: beats(until - start) };
    const timed = { startBeats: beats(sounds[0]), lengthBeats: beats(sounds[1] - sounds[0]) };
    const name = shift === 0 ? { noteName: note.name } : {};
    const swung = Math.abs(sounds[0] - start) > 1e-9 || Math.abs(sounds[1] - until) > 1e-9;
    return [
      {
        ...described({ note: midi(note.midi + shift), action }),
        ...name,
        ...timed,
        ...(swung ? { written: even } : {}),
      },
    ];
  });
}

function later(note: Unnumbered, by: number): Unnumbered {
  if (by === 0) return note;
  const moved = (at: Beats) => beats(at + by);
  const { written } = note;
  return {
    ...note,
    startBeats: moved(note.startBeats),
    ...(written === undefined ? {} : { written: { ...written, startBeats: moved(written.startBeats) } }),
  };
}

/** Chord symbols of the stretch, the one that holds at its beginning among them; none where the notes are moved. */
function chordsOf({ tune, span, shift, times }: TuneSetting, grid: Grid): readonly ChordAt[] {
  if (shift % 12 !== 0) return [];
  const before = tune.chords.filter((chord) => chord.atTicks <= span.startTicks).at(-1);
  const inside = tune.chords.filter(
    (chord) => chord.atTicks > span.startTicks && chord.atTicks < span.endTicks,
  );
  const once = [...(before === undefined ? [] : [{ ...before, atTicks: span.startTicks }]), ...inside];
  return Array.from({ length: times }, (_, time) =>
    once.map(({ atTicks, symbol }) => ({
      startBeats: beats(
        time * grid.period + grid.leadBeats + (atTicks - span.startTicks) / grid.ticksPerBeat,
      ),
      symbol,
    })),
  ).flat();
}

/** Position and mode of the tune on the harp. */
function placeOf({ tune, harp, shift }: TuneSetting) {
  const tonic = pitchClassOfName(tune.key.tonic) ?? 0;
  return {
    position: positionOfHome(harp, pitchClass(tonic + shift)),
    mode: tune.key.mode ?? "major",
  } as const;
}

function trains({ tune, words }: TuneSetting, lacking: readonly TuneNote[]): string {
  const stretch = `${words} of ${tune.title} on its breath path.`;
  if (lacking.length === 0) return stretch;
  const names = [...new Set(lacking.map((note) => note.name))].join(", ");
  const bars = [...new Set(lacking.map((note) => (tune.bars[note.bar]?.written ?? 0) + 1))].join(", ");
  return `${stretch} The harp lacks ${names} (bar ${bars}): left out.`;
}

function heldTempo({ tempo }: TuneSetting, grid: Grid): string {
  const wanted = tempoIn(tempo, grid.tempo.noteValue).bpm;
  if (Math.abs(wanted - grid.tempo.bpm) < 1e-6) return "";
  return ` The tempo is held at ${tempoInWords(grid.tempo)}, the ${wanted > grid.tempo.bpm ? "fastest" : "slowest"} there is.`;
}

function parametersOf({ tune, words, span, shift, times, abilities, of }: TuneSetting) {
  return {
    tune: tune.title,
    stretch: words,
    startTicks: span.startTicks,
    endTicks: span.endTicks,
    shift,
    times,
    abilities: { bends: abilities.bends, overbends: abilities.overbends },
    ...(of ?? {}),
  };
}

/**
 * How notes that share a beat are played where the player has not said: long to short. Written dots are played as written,
 * so a strathspey is even. Hornpipes as their drills; jigs lean on the first of three: common practice, no source.
 */
const USUAL_SWING: Readonly<Partial<Record<TuneDance, number>>> = {
  jig: 1.3,
  "single-jig": 1.3,
  "slip-jig": 1.3,
  hornpipe: swingOfDrills("hornpipe"),
  "barn-dance": 1.5,
};

/** Long to short of a dance's running notes, 1 where they are even. */
export const usualSwing = (dance: TuneDance | null): number =>
  dance === null ? 1 : (USUAL_SWING[dance] ?? 1);

function swingOfDrills(dance: Dance): number {
  const { rhythm } = DANCE_GRIDS[dance];
  return rhythm.kind === "swung" ? rhythm.ratio : 1;
}

/** A swing as a rhythm. */
export const usualRhythm = (ratio: number): Rhythm => (ratio === 1 ? EVEN : { kind: "swung", ratio });
