import * as v from "valibot";
import { MOST_HOLES } from "../instrument/layout.ts";
import { actionNote } from "../instrument/reed-actions.ts";
import { actionInWords } from "../instrument/tab.ts";
import { MODE_NAMES } from "../pitch/modes.ts";
import { noteName, pitchClassOfName } from "../pitch/note-names.ts";
import { EXERCISE_SCHEMA, EXERCISE_VERSION, type Exercise } from "./exercise.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "./tempo.ts";

export type ReadExercise =
  | { readonly kind: "exercise"; readonly exercise: Exercise }
  | { readonly kind: "unreadable"; readonly reason: string };

/** More notes than an hour of running quavers: a file beyond this is not an exercise. */
const MOST_NOTES = 20_000;

const wholeBetween = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
const reed = v.nullable(wholeBetween(-48, 72));
const text = v.pipe(v.string(), v.maxLength(500));

const actionShape = v.object({
  hole: wholeBetween(1, MOST_HOLES),
  breath: v.picklist(["blow", "draw"]),
  technique: v.picklist(["plain", "bend", "overblow", "overdraw"]),
  bentSemitones: wholeBetween(0, 24),
});

const noteShape = v.object({
  index: wholeBetween(0, MOST_NOTES),
  startBeats: v.pipe(v.number(), v.minValue(0), v.maxValue(1e6)),
  lengthBeats: v.pipe(v.number(), v.gtValue(0), v.maxValue(1e4)),
  midi: wholeBetween(0, 127),
  targetCents: v.pipe(v.number(), v.minValue(-100), v.maxValue(100)),
  noteName: text,
  degree: text,
  action: actionShape,
  tab: text,
});

const exerciseShape = v.object({
  schema: v.literal(EXERCISE_SCHEMA),
  version: v.literal(EXERCISE_VERSION),
  kind: v.literal("scale"),
  title: text,
  trains: text,
  harp: v.object({
    layout: v.object({
      id: text,
      name: text,
      holes: v.pipe(v.array(v.object({ blow: reed, draw: reed })), v.minLength(1), v.maxLength(MOST_HOLES)),
    }),
    key: v.pipe(
      v.string(),
      v.check((name) => pitchClassOfName(name) !== null, "not the name of a key"),
    ),
    keyNote: wholeBetween(24, 96),
    a4: v.pipe(v.number(), v.minValue(380), v.maxValue(500)),
  }),
  position: wholeBetween(1, 12),
  home: text,
  mode: v.picklist(MODE_NAMES),
  tempo: v.object({
    bpm: v.pipe(v.number(), v.minValue(SLOWEST), v.maxValue(FASTEST)),
    noteValue: v.picklist(NOTE_VALUES),
  }),
  beatsPerBar: wholeBetween(1, 16),
  countInBeats: wholeBetween(0, 16),
  parameters: v.record(v.string(), v.union([v.string(), v.number(), v.boolean()])),
  notes: v.pipe(v.array(noteShape), v.minLength(1), v.maxLength(MOST_NOTES)),
});

/**
 * Reads an exercise file.
 *
 * @param text JSON as written by the `exercise` command: schema "reedpath.exercise", version 1
 * @returns the exercise, or one line that names the field and what is wrong with it
 */
export function readExercise(text: string): ReadExercise {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    return unreadable(`not JSON: ${error instanceof Error ? error.message : "cannot be parsed"}`);
  }
  return checkExercise(data);
}

/** As `readExercise`, for data already parsed. */
export function checkExercise(data: unknown): ReadExercise {
  const stranger = explainStranger(data);
  if (stranger !== null) return unreadable(stranger);
  const result = v.safeParse(exerciseShape, data);
  if (!result.success) return unreadable(describeIssue(result.issues[0]));
  const exercise = result.output as unknown as Exercise;
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

function describeIssue(issue: v.BaseIssue<unknown>): string {
  const path = (issue.path ?? []).map((item) => item.key as string | number);
  const where = path
    .map((key) => (typeof key === "number" ? `[${key}]` : `.${key}`))
    .join("")
    .replace(/^\./, "");
  return `${where}: ${issue.message}`;
}

/** What the shape alone cannot show: numbering, order, and actions that do not sound what is written. */
function findContradiction(exercise: Exercise): string | null {
  let latest = 0;
  for (const [place, note] of exercise.notes.entries()) {
    if (note.index !== place) return `notes[${place}].index: is ${note.index}, must be ${place}`;
    if (note.startBeats < latest)
      return `notes[${place}].startBeats: ${note.startBeats} is before the note above it`;
    latest = note.startBeats;
    const sounds = actionNote(exercise.harp, note.action);
    if (sounds !== note.midi) {
      const action = actionInWords(note.action);
      const gives =
        sounds === null ? "cannot be played on this harp" : `sounds ${noteName(sounds)} on this harp`;
      return `notes[${place}].action: ${action} ${gives}, not the written ${noteName(note.midi)}`;
    }
  }
  return null;
}

const unreadable = (reason: string): ReadExercise => ({ kind: "unreadable", reason });
