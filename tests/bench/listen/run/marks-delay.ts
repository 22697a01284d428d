import { EXERCISE_SCHEMA, type Exercise, type ExpectedNote } from "../../../../core/exercise/exercise.ts";
import { readExercise } from "../../../../core/exercise/exercise-json.ts";
import { Listener } from "../../../../core/listen/listener.ts";
import { REHEARSALS, rehearseMarking } from "../../../../core/score/rehearsal.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../../core/score/score-take.ts";
import { beats, bpm, cents, midi, seconds } from "../../../../core/units.ts";
import { run } from "../../../../electron/headless.ts";
import type { TrueNote, Truth } from "../corpus/truth.ts";
import { readSound } from "../corpus/wav-file.ts";
import { median } from "../measures/statistics.ts";
import { CHUNK_SAMPLES } from "./live.ts";

const REPEATS = 5;

export interface MarksDelay {
  /** Of ending the listening, and of marking; medians. */
  readonly finishMs: number;
  readonly markMs: number;
  /** Both together the first time, marking rehearsed as the sheet does it: what a player's first take waits. */
  readonly firstMs: number;
}

/**
 * How long a player waits for marks after the last note: the take is streamed as the window streams it, then `finish` and
 * the marking are timed.
 */
export async function marksDelay(wav: string, truth: Truth): Promise<MarksDelay> {
  const exercise = exerciseOf(await anyExercise(), truth.notes);
  const { samples, sampleRateHz } = readSound(wav);
  for (let n = 0; n < REHEARSALS; n++) rehearseMarking(exercise);
  const waits = Array.from({ length: REPEATS }, () => {
    const listener = new Listener(sampleRateHz);
    for (let at = 0; at < samples.length; at += CHUNK_SAMPLES) {
      listener.push(samples.subarray(at, at + CHUNK_SAMPLES));
    }
    const start = performance.now();
    const listening = listener.finish();
    const finished = performance.now();
    const attempt = scoreTake(exercise, listening, { ...USUAL_SETTINGS, beatZeroSeconds: seconds(0) });
    const marked = performance.now();
    if (attempt.marks.length !== truth.notes.length) throw new Error(`${attempt.marks.length} marks`);
    return { finishMs: finished - start, markMs: marked - finished };
  });
  const [first] = waits;
  if (first === undefined) throw new Error("nothing was timed");
  return {
    finishMs: median(waits.map(({ finishMs }) => finishMs)),
    markMs: median(waits.map(({ markMs }) => markMs)),
    firstMs: first.finishMs + first.markMs,
  };
}

/** A drill as the headless command makes it; only its harp and the form of its notes are used. */
async function anyExercise(): Promise<Exercise> {
  let text = "";
  const stdout = (part: string) => {
    text += part;
  };
  await run(["exercise", "--kind", "scale"], { stdout, stderr: stdout });
  const read = readExercise(text);
  if (read.kind === "unreadable") throw new Error(`no ${EXERCISE_SCHEMA}: ${read.reason}`);
  return read.exercise;
}

/** The take's own notes, asked for where they were played: a beat is a second, and beat 0 the first sample. */
function exerciseOf(pattern: Exercise, notes: readonly TrueNote[]): Exercise {
  const [form] = pattern.notes;
  if (form === undefined) throw new Error("a drill without notes");
  const asked = notes.map(
    (note, index): ExpectedNote => ({
      ...form,
      index,
      startBeats: beats(note.on),
      lengthBeats: beats(note.off - note.on),
      midi: midi(note.midi),
      targetCents: cents(0),
    }),
  );
  return { ...pattern, tempo: { bpm: bpm(60), noteValue: "1/4" }, countInBeats: beats(0), notes: asked };
}
