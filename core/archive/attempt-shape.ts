import * as v from "valibot";
import { DRILL_KINDS } from "../exercise/exercise.ts";
import { actionShape } from "../exercise/exercise-shape.ts";
import { ATTEMPT_SCHEMA, ATTEMPT_VERSION, DIAGNOSIS_KINDS, WAYS } from "../score/attempt.ts";

/** Fields are as core/score/attempt.ts and mark.ts describe them; loose, so that what they do not name is kept. */

/** As many as an exercise may have, and no line of an archive holds more. */
const MOST_NOTES = 20_000;

const number = v.number();
const maybe = v.nullable(v.number());
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(1_000_000));
const place = v.pipe(v.number(), v.integer(), v.minValue(-1), v.maxValue(MOST_NOTES));
const text = v.pipe(v.string(), v.maxLength(1000));
const midi = v.pipe(v.number(), v.minValue(-100), v.maxValue(300));
const listOf = <T extends v.GenericSchema>(shape: T) => v.pipe(v.array(shape), v.maxLength(MOST_NOTES));
const tabs = v.pipe(v.array(text), v.maxLength(100));

const diagnosis = v.nullable(
  v.looseObject({
    kind: v.picklist(DIAGNOSIS_KINDS),
    words: text,
    action: v.nullable(actionShape),
    holes: v.pipe(v.array(number), v.maxLength(100)),
    offCents: maybe,
    others: v.pipe(v.array(v.picklist(DIAGNOSIS_KINDS)), v.maxLength(100)),
  }),
);

const holes = v.pipe(v.array(number), v.maxLength(100));

const slide = v.nullable(v.looseObject({ cents: number, ms: number }));

const mark = v.looseObject({
  index: place,
  verdict: v.picklist(["hit", "wrong", "missed", "not measured"]),
  expectedMidi: midi,
  heardMidi: v.nullable(midi),
  cents: maybe,
  reedCents: maybe,
  scoop: slide,
  fall: slide,
  hold: v.nullable(
    v.looseObject({
      lengthSeconds: number,
      distanceCents: number,
      driftCents: number,
      steadinessCents: number,
      breaks: count,
    }),
  ),
  ms: maybe,
  msFrom: v.nullable(v.picklist(["beat", "where it went on", "own tempo"])),
  msUncertain: number,
  lengthShare: maybe,
  intonation: v.nullable(v.picklist(["in tune", "close", "sharp", "flat"])),
  timing: v.nullable(v.picklist(["on the beat", "early", "late"])),
  action: actionShape,
  tab: text,
  heardAs: tabs,
  diagnosis,
  secondReed: v.nullable(
    v.looseObject({ midi, levelDb: maybe, tab: v.nullable(text), hole: maybe, loud: v.boolean() }),
  ),
  onSeconds: maybe,
  offSeconds: maybe,
  reason: v.nullable(text),
  chord: v.exactOptional(
    v.looseObject({
      breath: v.nullable(v.picklist(["blow", "draw"])),
      holes,
      unsureHoles: holes,
      octaveHoles: holes,
    }),
  ),
});

const biasAndSpread = { measuredNotes: count, biasCents: maybe, spreadCents: maybe };

const summary = v.looseObject({
  notes: v.looseObject({
    expected: count,
    hit: count,
    wrong: count,
    missed: count,
    notMeasured: count,
    extra: count,
    hitShare: maybe,
  }),
  intonation: v.looseObject({
    ...biasAndSpread,
    bends: v.nullable(v.looseObject(biasAndSpread)),
    reedsTakenOff: count,
  }),
  timing: v.looseObject({
    measuredNotes: count,
    biasMs: maybe,
    spreadMs: maybe,
    evennessMs: maybe,
    evennessShare: maybe,
    tempoRatio: maybe,
    tempoDrift: v.nullable(v.looseObject({ first: number, last: number })),
    swing: v.nullable(
      v.looseObject({
        asked: number,
        played: maybe,
        uncertain: maybe,
        pairs: count,
        judged: v.nullable(v.picklist(["as asked", "straighter", "more uneven"])),
        reason: v.nullable(text),
      }),
    ),
  }),
  hold: v.nullable(
    v.looseObject({ measuredNotes: count, distanceCents: maybe, driftCents: maybe, steadinessCents: maybe }),
  ),
});

const heard = { heardAs: tabs, onSeconds: number, offSeconds: number };

/** An attempt of the present version; `readAttempt` makes one of an older. */
export const attemptShape = v.looseObject({
  schema: v.literal(ATTEMPT_SCHEMA),
  version: v.literal(ATTEMPT_VERSION),
  title: text,
  way: v.picklist(WAYS),
  take: v.looseObject({
    durationSeconds: v.pipe(v.number(), v.minValue(0), v.maxValue(86_400)),
    sampleRateHz: v.pipe(v.number(), v.minValue(1), v.maxValue(1_000_000)),
    // Of silence minus infinity.
    peakDbfs: number,
    clippedShare: number,
  }),
  start: v.looseObject({ beatZeroSeconds: number, source: v.picklist(["given", "found"]) }),
  latencyMs: number,
  tolerances: v.looseObject({
    rightNoteCents: number,
    inTuneCents: number,
    bendInTuneCents: number,
    offCents: number,
    onBeatMs: number,
  }),
  summary,
  marks: listOf(mark),
  extras: listOf(
    v.looseObject({ ...heard, verdict: v.literal("extra"), afterIndex: place, heardMidi: midi, diagnosis }),
  ),
  ornaments: listOf(
    v.looseObject({
      ...heard,
      index: place,
      place: v.picklist(["before", "in"]),
      heardMidi: v.nullable(midi),
    }),
  ),
  abandoned: listOf(
    v.looseObject({ fromIndex: place, toIndex: place, notes: count, onSeconds: number, offSeconds: number }),
  ),
  stretches: listOf(
    v.looseObject({
      begins: v.picklist(["start", "late start", "stop", "skip", "again"]),
      fromIndex: place,
      toIndex: place,
      beatZeroSeconds: number,
      msFrom: v.nullable(v.picklist(["beat", "where it went on", "own tempo"])),
    }),
  ),
  faults: listOf(v.looseObject({ kind: v.string(), index: place, words: text })),
  advice: v.pipe(
    v.array(
      v.looseObject({
        cause: v.string(),
        words: text,
        notes: count,
        of: count,
        drillWords: v.nullable(text),
        drill: v.nullable(v.looseObject({ kind: v.picklist(DRILL_KINDS) })),
      }),
    ),
    v.maxLength(100),
  ),
});
