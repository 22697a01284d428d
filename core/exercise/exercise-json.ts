import * as v from "valibot";
import { actionNote } from "../instrument/reed-actions.ts";
import { actionInWords } from "../instrument/tab.ts";
import { noteName } from "../pitch/note-names.ts";
import { inWords } from "../reading/issues.ts";
import { Fault, parsed } from "../reading/json-values.ts";
import { EXERCISE_SCHEMA, EXERCISE_VERSION, type Exercise, type ExpectedNote } from "./exercise.ts";
import { exerciseShape } from "./exercise-shape.ts";

export type ReadExercise =
  | { readonly kind: "exercise"; readonly exercise: Exercise }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads an exercise file.
 *
 * @param text JSON as written by the `exercise` command: schema "reedpath.exercise", version 4, 3, 2 or 1
 * @returns the exercise, as of version 4, or one line that names the field and what is wrong with it
 */
export function readExercise(text: string): ReadExercise {
  try {
    return checkExercise(parsed(text));
  } catch (error) {
    if (error instanceof Fault) return unreadable(error.message);
    throw error;
  }
}

/** As `readExercise`, for data already parsed. */
export function checkExercise(data: unknown): ReadExercise {
  const stranger = explainStranger(data);
  if (stranger !== null) return unreadable(stranger);
  const result = v.safeParse(exerciseShape, data, { abortEarly: true });
  if (!result.success) return unreadable(inWords(result.issues[0]));
  const exercise = { ...result.output, version: EXERCISE_VERSION } as unknown as Exercise;
  const contradiction = findContradiction(exercise);
  return contradiction === null ? { kind: "exercise", exercise } : unreadable(contradiction);
}

function explainStranger(data: unknown): string | null {
  if (typeof data !== "object" || data === null || Array.isArray(data))
    return "not an exercise: no JSON object";
  const { schema, version } = data as { schema?: unknown; version?: unknown };
  if (schema !== EXERCISE_SCHEMA) return `not an exercise: "schema" is not "${EXERCISE_SCHEMA}"`;
  if (typeof version === "number" && version > EXERCISE_VERSION) {
    return `made by a newer version of the program (exercise version ${version}, this one reads ${EXERCISE_VERSION})`;
  }
  return null;
}

/** What the shape alone cannot show: numbering, order, and actions that do not sound what is written. */
function findContradiction(exercise: Exercise): string | null {
  let latest = 0;
  for (const [place, note] of exercise.notes.entries()) {
    if (note.index !== place) return `notes[${place}].index: is ${note.index}, must be ${place}`;
    if (note.startBeats < latest)
      return `notes[${place}].startBeats: ${note.startBeats} is before the note above it`;
    latest = note.startBeats;
    const wrong =
      wrongReed(exercise, note, `notes[${place}]`) ?? wrongChord(exercise, note, `notes[${place}]`);
    if (wrong !== null) return wrong;
  }
  return null;
}

/** Why a reed action does not sound what is written beside it, or null. */
function wrongReed(
  { harp }: Exercise,
  { action, midi }: Pick<ExpectedNote, "action" | "midi">,
  where: string,
) {
  const sounds = actionNote(harp, action);
  if (sounds === midi) return null;
  const gives = sounds === null ? "cannot be played on this harp" : `sounds ${noteName(sounds)} on this harp`;
  return `${where}.action: ${actionInWords(action)} ${gives}, not the written ${noteName(midi)}`;
}

/** The reeds of a chord are plain ones of one breath, rising by hole. */
function wrongChord(exercise: Exercise, { action, chord }: ExpectedNote, where: string): string | null {
  let before = action;
  for (const [place, reed] of (chord?.besides ?? []).entries()) {
    const here = `${where}.chord.besides[${place}]`;
    if (before.technique !== "plain" || reed.action.technique !== "plain")
      return `${here}.action: only plain reeds sound together`;
    if (reed.action.breath !== action.breath)
      return `${here}.action: ${actionInWords(reed.action)} is not on the breath of ${actionInWords(action)}`;
    if (reed.action.hole <= before.hole)
      return `${here}.action: hole ${reed.action.hole} is not above hole ${before.hole}`;
    const wrong = wrongReed(exercise, reed, here);
    if (wrong !== null) return wrong;
    before = reed.action;
  }
  return null;
}

const unreadable = (reason: string): ReadExercise => ({ kind: "unreadable", reason });
