import { DANCE_GRIDS, DANCES, type DanceGrid } from "../../core/exercise/dance-grids.ts";
import type { Octaves, Running } from "../../core/exercise/drill-spec.ts";
import {
  ACCENTS,
  LEAST_SWING,
  MOST_SWING,
  NOTES_PER_BEAT,
  type NotesPerBeat,
  type Rhythm,
} from "../../core/exercise/rhythm.ts";
import { type InHoles, type ReedAction, readHoles } from "../../core/instrument/reed-actions.ts";
import { readTab } from "../../core/instrument/tab.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";

/** The dance whose grid the drill takes where nothing else is said; null without `--dance`. */
export function danceOption(args: Arguments): DanceGrid | null {
  if (args.options.dance === undefined) return null;
  return DANCE_GRIDS[choiceOption(args, "dance", "reel", DANCES)];
}

/** `--notes-per-beat`, `--rhythm`, `--swing` and `--accents`. */
export function runningOptions(args: Arguments, usual: NotesPerBeat = 1): Running {
  const dance = danceOption(args);
  const accents =
    args.options.accents === undefined ? dance?.accents : choiceOption(args, "accents", "none", ACCENTS);
  const rhythm = rhythmOption(args) ?? dance?.rhythm;
  return {
    notesPerBeat: notesPerBeatOf(args.options["notes-per-beat"], dance?.notesPerBeat ?? usual),
    ...(rhythm === undefined ? {} : { rhythm }),
    ...(accents === undefined ? {} : { accents }),
  };
}

function notesPerBeatOf(text: string | undefined, usual: NotesPerBeat): NotesPerBeat {
  if (text === undefined) return usual;
  const found = NOTES_PER_BEAT.find((count) => String(count) === text.trim());
  if (found === undefined)
    throw new CommandError(`--notes-per-beat must be one of ${NOTES_PER_BEAT.join(", ")}, not "${text}"`);
  return found;
}

function rhythmOption(args: Arguments): Rhythm | undefined {
  const swing = args.options.swing;
  const kind = choiceOption(args, "rhythm", swing === undefined ? "even" : "swung", [
    "even",
    "dotted",
    "swung",
  ]);
  if (swing !== undefined && kind !== "swung")
    throw new CommandError(`--swing goes with --rhythm swung, not with ${kind}`);
  if (kind === "swung")
    return { kind, ratio: numberOption(args, "swing", 2, { low: LEAST_SWING, high: MOST_SWING }) };
  return args.options.rhythm === undefined ? undefined : { kind };
}

/** `--octaves 1`, `2` or `plain`. */
export function octavesOption(args: Arguments): Octaves {
  const text = args.options.octaves?.trim() ?? "1";
  if (text === "1") return 1;
  if (text === "2") return 2;
  if (text === "plain") return "plain range";
  throw new CommandError(
    `--octaves must be a whole number from 1 to 2, or "plain" for the whole plain range, not "${text}"`,
  );
}

/** `--octaves`, `--start` and `--from-degree`. */
export function rangeOptions(args: Arguments) {
  const fromDegree = args.options["from-degree"];
  return {
    octaves: octavesOption(args),
    start: choiceOption(args, "start", "easiest", ["easiest", "lowest"]),
    ...(fromDegree === undefined ? {} : { fromDegree }),
  } as const;
}

/** A reed action in tab: `4`, `-3''`, `6o`. */
export function actionOption(args: Arguments, name: string): ReedAction {
  const text = args.options[name];
  if (text === undefined)
    throw new CommandError(`--${name} is missing: a hole in tab, such as 4, -4 or "-3''"`);
  const action = readTab(text);
  if (action === null)
    throw new CommandError(`--${name} must be a hole in tab, such as 4, -4 or "-3''", not "${text}"`);
  return action;
}

/** "yes", "no" or hole numbers. */
export function holesOption(args: Arguments, name: string, usual: boolean): InHoles {
  const text = args.options[name];
  if (text === undefined) return usual;
  const holes = readHoles(text);
  if (holes === null)
    throw new CommandError(`--${name} must be yes, no or hole numbers such as "4 6", not "${text}"`);
  return holes;
}

/** Rounds of a breath drill: "1 2 3 4". */
export function roundsOption(args: Arguments): readonly NotesPerBeat[] {
  const text = args.options.rounds ?? "1 2 3 4";
  const words = text.split(/[\s,]+/).filter((word) => word !== "");
  const rounds = words.map((word) => NOTES_PER_BEAT.find((count) => String(count) === word));
  const known = rounds.filter((round) => round !== undefined);
  if (known.length !== words.length || known.length === 0)
    throw new CommandError(
      `--rounds must be notes to the beat, of ${NOTES_PER_BEAT.join(", ")}, such as "1 2 4", not "${text}"`,
    );
  return known;
}
