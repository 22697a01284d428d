import { usualProgression } from "../../core/exercise/chords.ts";
import type { DrillKind, DrillSetting, DrillSpec, Running } from "../../core/exercise/drill-spec.ts";
import { NOTES_PER_BEAT, type NotesPerBeat, type Rhythm } from "../../core/exercise/rhythm.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import {
  type Abilities,
  type InHoles,
  type ReedAction,
  readHoles,
  reedActions,
} from "../../core/instrument/reed-actions.ts";
import { tab } from "../../core/instrument/tab.ts";
import type { Mode } from "../../core/pitch/modes.ts";
import { bpm } from "../../core/units.ts";
import type { DrillChoice } from "./drill-choice.ts";
import { degreeInMode, modeOfChoice } from "./mode-of-choice.ts";

export type SpecOfChoice =
  | { readonly kind: "spec"; readonly spec: DrillSpec }
  | { readonly kind: "impossible"; readonly reason: string };

/** How long each note of a bend drill lasts unless told otherwise. */
export const HOLD_BEATS: Readonly<Record<DrillChoice["bendFigure"], number>> = {
  hold: 4,
  "from-above": 3,
  match: 2,
  ladder: 1,
};

const impossible = (reason: string): SpecOfChoice => ({ kind: "impossible", reason });

/** What the drill maker is asked for by a choice, or what of it cannot be read. */
export function specOfChoice(choice: DrillChoice, harp: Harp): SpecOfChoice {
  const mode = modeOfChoice(choice);
  if (mode.kind === "unreadable") return impossible(mode.reason);
  const unreadable = [choice.bendHoles, choice.overbendHoles].find((text) => readSome(text) === null);
  if (unreadable !== undefined) return impossible(`holes are told by number, "4 6", not "${unreadable}"`);
  const setting: DrillSetting = {
    harp,
    position: choice.position,
    mode: mode.mode,
    abilities: abilitiesOf(choice),
    tempo: { bpm: bpm(choice.bpm), noteValue: choice.noteValue },
    countInBeats: choice.countInBeats,
    ...(choice.beatsPerBar === 0 ? {} : { beatsPerBar: choice.beatsPerBar }),
  };
  const parts = PARTS[choice.kind](choice, setting);
  if (typeof parts === "string") return impossible(parts);
  // Each row of the table gives the parts of its own kind: together they are that kind's drill.
  return { kind: "spec", spec: { kind: choice.kind, ...setting, ...parts } as DrillSpec };
}

/** The parts of a kind beside its setting, or why there are none. */
type PartsOf<K extends DrillKind> = (
  choice: DrillChoice,
  setting: DrillSetting,
) => Omit<Extract<DrillSpec, { kind: K }>, "kind" | keyof DrillSetting> | string;

const PARTS: { readonly [K in DrillKind]: PartsOf<K> } = {
  scale: (choice, { mode }) => ({ ...running(choice), ...range(choice, mode), direction: choice.direction }),
  arpeggio: (choice, { mode }) => {
    const { octaves, start, direction, chordSize: size } = choice;
    return { ...running(choice), octaves, start, direction, degree: degreeInMode(mode, choice.degree), size };
  },
  progression: (choice, { mode }) => {
    const numerals = choice.numerals.trim() || usualProgression(mode);
    if (numerals === null) return `say which chords of ${mode}, in Roman numerals such as I-IV-V-I`;
    const { chordFigure: figure, start, repeats } = choice;
    return { ...running(choice), start, repeats, numerals, figure };
  },
  backing: (choice, { mode }) => {
    const chords = choice.backingChords.trim() || usualProgression(mode);
    if (chords === null) return `say which chords, in Roman numerals of ${mode} or as symbols, such as G-C-D`;
    const { strokes, mostHoles, partialChords: partial, repeats } = choice;
    return { chords, strokes, mostHoles, partial, repeats };
  },
  pattern: (choice, { mode }) => ({
    ...running(choice),
    ...range(choice, mode),
    direction: choice.direction,
    figure: choice.patternFigure,
  }),
  bend,
  "breath-pair": breathPair,
  "hole-jumps": (choice) => {
    const { jump, jumpBreath, direction, repeats } = choice;
    return { ...running(choice), direction, repeats, jump, breath: jumpBreath };
  },
  "one-breath": (choice) => ({
    ...running(choice),
    repeats: choice.repeats,
    breath: choice.runBreath,
  }),
  "long-tones": (choice, { mode }) => {
    const { direction, toneBeats, restBeats } = choice;
    return { ...range(choice, mode), direction, toneBeats, restBeats };
  },
  "random-notes": (choice, { mode }) => {
    const { count, seed, targetAs, noteBeats, callBeats, largestLeap } = choice;
    const leap = largestLeap === 0 ? {} : { largestLeap };
    return { ...range(choice, mode), count, seed, targetAs, noteBeats, callBeats, ...leap };
  },
};

function running(choice: DrillChoice): Running {
  return { notesPerBeat: choice.notesPerBeat, rhythm: rhythmOf(choice), accents: choice.accents };
}

/** One note to the beat has no rhythm: what is kept for more is left out. */
function rhythmOf({ notesPerBeat, rhythm, swing }: DrillChoice): Rhythm {
  if (notesPerBeat === 1) return { kind: "even" };
  return rhythm === "swung" ? { kind: rhythm, ratio: swing } : { kind: rhythm };
}

/** The first degree of the mode is left out, as the drill maker has it. */
function range({ octaves, start, fromDegree }: DrillChoice, mode: Mode) {
  const from = degreeInMode(mode, fromDegree);
  return { octaves, start, ...(from === degreeInMode(mode, "1") ? {} : { fromDegree: from }) };
}

function bend(choice: DrillChoice) {
  const { technique, bendHole, bendBreath, bendDepth } = choice;
  return {
    figure: choice.bendFigure,
    holdBeats: choice.holdBeats,
    restBeats: choice.restBeats,
    repeats: choice.repeats,
    targetShown: choice.targetShown,
    seed: choice.seed,
    technique,
    ...(bendHole === 0 ? {} : { hole: bendHole }),
    ...(bendBreath === "either" ? {} : { breath: bendBreath }),
    ...(bendDepth === 0 || technique !== "bend"
      ? {}
      : { bentSemitones: bendDepth as ReedAction["bentSemitones"] }),
  };
}

function breathPair(choice: DrillChoice, { harp }: DrillSetting) {
  const first = actionOfTab(harp, choice.first);
  const second = actionOfTab(harp, choice.second);
  if (first === null || second === null)
    return `this harp has no ${first === null ? choice.first : choice.second}`;
  const rounds = readRounds(choice.rounds);
  if (rounds === null)
    return `rounds are told by their notes to the beat, of ${NOTES_PER_BEAT.join(", ")}, such as "1 2 4", not "${choice.rounds}"`;
  return { first, second, rounds, roundBeats: choice.roundBeats };
}

/** Notes to the beat of each round, "1 2 4"; null if a word is none of those there can be. */
export function readRounds(text: string): readonly NotesPerBeat[] | null {
  const words = text.split(/[\s,]+/).filter((word) => word !== "");
  const rounds = words.flatMap((word) => NOTES_PER_BEAT.filter((count) => String(count) === word));
  return rounds.length === words.length && rounds.length > 0 ? rounds : null;
}

/** Holes as typed, every one where nothing is; null if it is neither. */
export const readSome = (text: string): InHoles | null => (text.trim() === "" ? true : readHoles(text));

/** What the player can do besides plain notes. */
export function abilitiesOf(choice: DrillChoice): Abilities {
  return {
    bends: choice.bends && (readSome(choice.bendHoles) ?? true),
    overbends: choice.overbends && (readSome(choice.overbendHoles) ?? true),
  };
}

/** The reed action a tab names on a harp, or null. */
export function actionOfTab(harp: Harp, wanted: string): ReedAction | null {
  const all = reedActions(harp.layout, { bends: true, overbends: true });
  return all.find(({ action }) => tab(action) === wanted)?.action ?? null;
}
