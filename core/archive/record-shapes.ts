import * as v from "valibot";
import { checkExercise } from "../exercise/exercise-json.ts";
import { actionShape } from "../exercise/exercise-shape.ts";
import { harpShape, layoutShape } from "../instrument/harp-shape.ts";
import { readPracticeDay } from "../progress/practice-day.ts";
import { BREAK_SECONDS, PAUSE_SECONDS, TIMES_THROUGH } from "../progress/repertoire/repertoire-set-list.ts";
import { TUNE_STATUSES } from "../progress/repertoire/repertoire-status.ts";
import { inWords } from "../reading/issues.ts";
import { LIMITS } from "../reading/limits.ts";
import { readAttempt } from "../score/attempt-versions.ts";
import { keptMeasurementShape } from "../workshop/measure/measurement-shape.ts";
import { repairShape } from "../workshop/retune/repair-shape.ts";
import { type RecordKind, TAKE_PART_BYTES } from "./archive-format.ts";
import { attemptShape } from "./attempt-shape.ts";
import { isBase64 } from "./base64.ts";

/** What is wrong with a value, as "value.harp.key: …"; or that a newer program made it; null if nothing is. */
export type ValueTrouble = { readonly kind: "fault" | "newer"; readonly reason: string } | null;

const text = v.pipe(v.string(), v.maxLength(2000));
const name = v.pipe(v.string(), v.minLength(1), v.maxLength(200));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(2 ** 31));
const between = ({ low, high }: { readonly low: number; readonly high: number }) =>
  v.pipe(v.number(), v.minValue(low), v.maxValue(high));
/** What a date can be. Source: ECMA-262, 21.4.1.1, 8.64e15 ms either way; nothing was kept before 1970. */
const epochMs = v.pipe(v.number(), v.minValue(0), v.maxValue(8.64e15));
const flag = v.exactOptional(v.literal(true));
const maybe = <T extends v.GenericSchema>(shape: T) => v.exactOptional(shape);
const few = <T extends v.GenericSchema>(shape: T, most = 1000) => v.pipe(v.array(shape), v.maxLength(most));

const tuneShape = v.looseObject({
  title: text,
  otherTitles: few(text),
  key: text,
  metre: text,
  dance: text,
  begins: text,
  from: text,
  abc: v.pipe(v.string(), v.maxLength(4_000_000)),
});

const phraseShape = v.looseObject({
  startTicks: v.number(),
  endTicks: v.number(),
  index: count,
  strain: text,
  words: text,
});

const studyShape = v.looseObject({
  pins: maybe(few(v.looseObject({ written: count, action: actionShape }), 20_000)),
  phrases: maybe(few(phraseShape, 20_000)),
  phraseBars: maybe(count),
  heard: maybe(few(text)),
  danceBpm: maybe(between({ low: 1, high: 1000 })),
  swing: maybe(between({ low: 0.1, high: 10 })),
  voice: maybe(text),
  harp: maybe(harpShape),
  octaves: maybe(between({ low: -10, high: 10 })),
  even: maybe(v.boolean()),
  status: maybe(v.picklist(TUNE_STATUSES)),
});

const setTuneShape = v.looseObject({
  id: name,
  tuneId: name,
  title: text,
  times: between(TIMES_THROUGH),
  bpm: maybe(between({ low: 1, high: 1000 })),
  harp: maybe(harpShape),
});

const setListShape = v.looseObject({
  name: text,
  sets: few(
    v.looseObject({
      id: name,
      name: text,
      tunes: few(setTuneShape),
      pauseSeconds: between(PAUSE_SECONDS),
      breakSeconds: between(BREAK_SECONDS),
    }),
  ),
  demo: flag,
});

const day = v.pipe(
  v.string(),
  v.check((words) => readPracticeDay(words) !== null, "no day of the calendar"),
);
const wishShape = v.variant("kind", [
  v.looseObject({ kind: v.literal("suspended"), wishedAtEpochMs: epochMs }),
  v.looseObject({ kind: v.literal("moved"), toDay: day, wishedAtEpochMs: epochMs }),
  v.looseObject({ kind: v.literal("taken back"), wishedAtEpochMs: epochMs }),
]);

/** An attempt but for exercise and marks, which have readers of their own. */
const entryShape = v.looseObject({
  atEpochMs: epochMs,
  zone: name,
  source: v.picklist(["microphone", "recording"]),
  demo: flag,
  starred: flag,
});

const sampleRateHz = v.pipe(v.number(), v.minValue(1), v.maxValue(1_000_000));

/** A take is stored in one of two forms; "float32" is little-endian. */
const aboutShape = v.variant("form", [
  v.strictObject({ form: v.literal("float32"), sampleRateHz, count }),
  v.strictObject({
    form: v.literal("packed"),
    sampleRateHz,
    count,
    step: v.pipe(v.number(), v.gtValue(0), v.maxValue(1)),
  }),
]);

const takePartShape = v.strictObject({
  about: aboutShape,
  part: count,
  parts: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(LIMITS.archiveTakeParts.most)),
  bytes: v.pipe(
    v.string(),
    v.maxLength((TAKE_PART_BYTES / 3) * 4),
    v.check(isBase64, "not base64 (RFC 4648)"),
  ),
});

/** A part of a take: what form it has, alike in all parts, and its bytes in base64. */
export type TakePart = v.InferOutput<typeof takePartShape>;

/** Settings are read field by field by whoever uses them. */
const settingsShape = v.record(v.string(), v.unknown());

const SHAPES: Readonly<Record<Exclude<RecordKind, "attempt">, v.GenericSchema>> = {
  settings: settingsShape,
  layout: v.looseObject({ layout: layoutShape }),
  harp: v.looseObject({ harp: harpShape, note: text, repairs: maybe(few(repairShape)) }),
  tune: tuneShape,
  study: studyShape,
  "set list": setListShape,
  wish: wishShape,
  "reed measurement": keptMeasurementShape,
  take: takePartShape,
};

/** Looks a record's value through, to the last field. */
export function checkValue(kind: RecordKind, value: unknown): ValueTrouble {
  return kind === "attempt" ? checkEntry(value) : fault(SHAPES[kind], value, "value");
}

function fault(shape: v.GenericSchema, value: unknown, where: string): ValueTrouble {
  const read = v.safeParse(shape, value, { abortEarly: true });
  return read.success ? null : { kind: "fault", reason: `${where}.${inWords(read.issues[0])}` };
}

function checkEntry(value: unknown): ValueTrouble {
  const wrong = fault(entryShape, value, "value");
  if (wrong !== null) return wrong;
  const { exercise, attempt } = value as { readonly exercise?: unknown; readonly attempt?: unknown };
  const exerciseRead = checkExercise(exercise);
  if (exerciseRead.kind === "unreadable") return troubleOf("value.exercise", exerciseRead.reason);
  const read = readAttempt(withMarks(attempt));
  if (read.kind === "unreadable") return troubleOf("value.attempt", read.reason);
  return (
    fault(attemptShape, read.attempt, "value.attempt") ??
    strayMark(read.attempt.marks, exerciseRead.exercise.notes.length)
  );
}

/** An attempt of version 1 is brought to the present one before its shape is looked at: what that needs must be there. */
function withMarks(attempt: unknown): unknown {
  const { summary, marks, extras } = (attempt ?? {}) as Readonly<Record<string, unknown>>;
  const { notes, intonation, timing } = (summary ?? {}) as Readonly<Record<string, unknown>>;
  const isObject = (one: unknown) => typeof one === "object" && one !== null;
  const whole = [notes, intonation, timing].every(isObject) && [marks, extras].every(Array.isArray);
  return whole ? attempt : null;
}

const troubleOf = (where: string, reason: string): ValueTrouble => ({
  kind: /newer version/.test(reason) ? "newer" : "fault",
  reason: `${where}: ${reason}`,
});

function strayMark(marks: readonly { readonly index: number }[], notes: number): ValueTrouble {
  const place = marks.findIndex(({ index }) => index < 0 || index >= notes);
  if (place < 0) return null;
  return { kind: "fault", reason: `value.attempt.marks[${place}].index: the exercise has ${notes} notes` };
}
