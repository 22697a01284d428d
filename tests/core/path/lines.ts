import fc from "fast-check";
import type { Harp } from "../../../core/instrument/harp.ts";
import {
  type Abilities,
  actionsForNote,
  EVERYTHING,
  type ReedAction,
  reachOf,
} from "../../../core/instrument/reed-actions.ts";
import { readTab, tab } from "../../../core/instrument/tab.ts";
import { pathCost } from "../../../core/path/cost.ts";
import type { Line, LineNote } from "../../../core/path/line.ts";
import { FIRST_WEIGHTS, WEIGHT_NAMES, type Weights } from "../../../core/path/weights.ts";
import { midiOfName } from "../../../core/pitch/note-names.ts";
import { midi, seconds } from "../../../core/units.ts";

/** Notes by name, each lasting as long, every one a choice of its own. */
export function lineOf(names: string, eachSeconds = 0.25): Line {
  return names.split(" ").map((name, index) => {
    const pitch = midiOfName(name);
    if (pitch === null) throw new Error(`"${name}" is no note`);
    return noteAt(pitch, index, eachSeconds);
  });
}

export function noteAt(pitch: number, index: number, eachSeconds = 0.25): LineNote {
  return {
    midi: midi(pitch),
    startSeconds: seconds(index * eachSeconds),
    lengthSeconds: seconds(eachSeconds),
    choice: index,
    where: `bar ${Math.floor(index / 8) + 1}`,
  };
}

/** Reed actions in tab: "4 -4 5". */
export function tabs(actions: readonly (ReedAction | null)[]): string {
  return actions.map((action) => (action === null ? "x" : tab(action))).join(" ");
}

export function actionOf(text: string): ReedAction {
  const action = readTab(text);
  if (action === null) throw new Error(`"${text}" is no tab`);
  return action;
}

/** Any weights a player may set, whole quarters so that sums are exact. */
export const anyWeights: fc.Arbitrary<Weights> = fc
  .array(fc.integer({ min: 0, max: 20 }), { minLength: WEIGHT_NAMES.length, maxLength: WEIGHT_NAMES.length })
  .map((quarters) => {
    const entries = WEIGHT_NAMES.map((name, place) => [name, (quarters[place] ?? 0) / 4] as const);
    const times = { comfortableSeconds: 0.25, leastHurry: 0.25, mostHurry: 4 };
    return { ...FIRST_WEIGHTS, ...Object.fromEntries(entries), ...times };
  });

/** Short lines of notes a harp can mostly sound, some of them one choice, with rests between some. */
export function anyLine(harp: Harp, most: number): fc.Arbitrary<Line> {
  const pitches = [...reachOf(harp.layout, EVERYTHING).keys()].map((sounds) => harp.keyNote + sounds);
  const pitch = fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom(...pitches) },
    { weight: 1, arbitrary: fc.integer({ min: 40, max: 110 }) },
  );
  // Few different notes, so that some come again and are one choice.
  return fc
    .array(pitch, { minLength: 1, maxLength: 4 })
    .chain((few) =>
      fc.array(
        fc.record({
          pitch: fc.constantFrom(...few),
          length: fc.constantFrom(0.125, 0.25, 0.5),
          rest: fc.constantFrom(0, 0, 0, 0.25),
          alike: fc.boolean(),
        }),
        { minLength: 1, maxLength: most },
      ),
    )
    .map((notes) => {
      let start = 0;
      return notes.map(({ pitch, length, rest, alike }, index) => {
        const note = noteAt(pitch, index);
        const at = seconds(start);
        start += length + rest;
        const choice = alike ? notes.findIndex((one) => one.pitch === pitch && one.alike) : index;
        return { ...note, startSeconds: at, lengthSeconds: seconds(length), choice };
      });
    });
}

/** Every way to play a line, notes played alike alike, tried one by one. */
export function everyPath(
  line: Line,
  harp: Harp,
  abilities: Abilities,
): readonly (readonly (ReedAction | null)[])[] {
  let paths: (ReedAction | null)[][] = [[]];
  for (const [index, note] of line.entries()) {
    const able = actionsForNote(harp, note.midi, abilities);
    const first = line.findIndex((one) => one.choice === note.choice);
    paths = paths.flatMap((path) => {
      if (first < index) return [[...path, path[first] ?? null]];
      return able.length === 0 ? [[...path, null]] : able.map((action) => [...path, action]);
    });
  }
  return paths;
}

export const cheapest = (
  paths: readonly (readonly (ReedAction | null)[])[],
  line: Line,
  weights: Weights,
): number => Math.min(...paths.map((path) => pathCost(line, path, weights)));
