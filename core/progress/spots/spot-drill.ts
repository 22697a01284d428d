import type { DrillSetting, DrillSpec, MadeExercise } from "../../exercise/drill-spec.ts";
import { makeDrill } from "../../exercise/make-drill.ts";
import { type ReedAction, sameAction } from "../../instrument/reed-actions.ts";
import { readTab } from "../../instrument/tab.ts";
import { bpm } from "../../units.ts";
import { pairOf } from "../counts/reed-counts.ts";

/** Slow enough to hear each note, four to the beat still no shorter than 200 ms. Common practice, no source. */
const CALM = { bpm: bpm(72), noteValue: "1/4" } as const;

/** Long tones are tried over these until one has the note that is wanted. */
const RANGES = [
  { octaves: 1, start: "easiest" },
  { octaves: 1, start: "lowest" },
  { octaves: 2, start: "lowest" },
  { octaves: "plain range", start: "lowest" },
] as const;

/**
 * The drill for one reed action or a pair: back and forth for a pair; a bend or overbend reached and held; long tones over a
 * range that has the note for a plain reed, or, where there is none, that reed in turn with the other of its hole.
 *
 * @param name    tab, "-3''", or of a pair "4 > -4", as in a `ReedTable`
 * @param setting the harp, position and mode it is for; its tempo and abilities are set here
 * @returns the exercise, or in words why there is none
 */
export function drillForSpot(name: string, setting: DrillSetting): MadeExercise {
  const actions = (pairOf(name) ?? [name]).map(readTab);
  const [first, second] = actions;
  if (first == null || second === null) return { kind: "impossible", reason: `${name} is no reed action` };
  const calm: DrillSetting = {
    ...setting,
    abilities: {
      bends: true,
      overbends: actions.some((one) => one?.technique.startsWith("over") === true),
    },
    tempo: CALM,
    countInBeats: 4,
    beatsPerBar: 4,
  };
  if (second !== undefined)
    return makeDrill({ kind: "breath-pair", ...calm, first, second, rounds: [1, 2, 4], roundBeats: 8 });
  return first.technique === "plain" ? longTones(first, calm) : heldBend(first, calm);
}

function heldBend(
  { technique, hole, breath, bentSemitones }: ReedAction,
  setting: DrillSetting,
): MadeExercise {
  if (technique === "plain") throw new RangeError("a plain note is not bent");
  const target = { technique, hole, breath, bentSemitones };
  const holding = { holdBeats: 4, restBeats: 4, repeats: 4, targetShown: true, seed: 1 };
  return makeDrill({ kind: "bend", ...setting, figure: "hold", ...target, ...holding });
}

function longTones(action: ReedAction, setting: DrillSetting): MadeExercise {
  const plain = { ...setting, abilities: { bends: false, overbends: false } };
  const specs = [plain, setting].flatMap((one) =>
    RANGES.map(
      (range): DrillSpec => ({
        kind: "long-tones",
        ...one,
        ...range,
        direction: "both",
        toneBeats: 4,
        restBeats: 4,
      }),
    ),
  );
  const all = specs.map((spec) => makeDrill(spec));
  const has = (made: MadeExercise) =>
    made.kind === "exercise" && made.exercise.notes.some((note) => sameAction(note.action, action));
  return all.find(has) ?? inOneHole(action, setting);
}

/** No scale of this position has the note: in turn with the other reed of its hole, slowly. */
function inOneHole(first: ReedAction, setting: DrillSetting): MadeExercise {
  const second: ReedAction = { ...first, breath: first.breath === "blow" ? "draw" : "blow" };
  return makeDrill({ kind: "breath-pair", ...setting, first, second, rounds: [1], roundBeats: 16 });
}
