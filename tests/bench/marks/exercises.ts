import type { DrillSetting, DrillSpec } from "../../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { bpm, hz } from "../../../core/units.ts";

const KINDS = ["scale", "random-notes", "bend", "arpeggio", "pattern", "hole-jumps"] as const;
const MODES = ["major", "mixolydian", "dorian", "minor", "lydian"] as const;
/** Fewer carry too few faults between clean notes; more make one drill weigh too much. */
const FEWEST_NOTES = 12;
const MOST_NOTES = 64;

/**
 * So many exercises at a tempo: the kinds of drill in turn, on harps, positions and modes drawn by chance. Half of them on
 * the standard layout, where bends are needed most.
 *
 * @param fits whether the recorded reeds can play it
 */
export function drawExercises(
  count: number,
  tempo: number,
  random: Random,
  fits: (exercise: Exercise) => boolean,
): readonly Exercise[] {
  const found: Exercise[] = [];
  while (found.length < count) {
    const kind = KINDS[found.length % KINDS.length] ?? "scale";
    const made = makeDrill(specOf(kind, tempo, random));
    if (made.kind === "impossible") continue;
    const { notes } = made.exercise;
    if (notes.length < FEWEST_NOTES || notes.length > MOST_NOTES || !fits(made.exercise)) continue;
    found.push(made.exercise);
  }
  return found;
}

function specOf(kind: (typeof KINDS)[number], tempo: number, random: Random): DrillSpec {
  const pick = <T>(from: readonly [T, ...T[]] | readonly T[]): T =>
    from[Math.floor(random() * from.length)] as T;
  const setting = settingOf(tempo, random, pick);
  const running = { notesPerBeat: pick([1, 2, 2] as const) };
  const range = {
    octaves: pick([1, 2] as const),
    start: pick(["easiest", "lowest"] as const),
    direction: "both",
  } as const;
  const seed = Math.floor(random() * 1e6);
  switch (kind) {
    case "scale":
      return { kind, ...setting, ...running, ...range };
    case "random-notes":
      return {
        kind,
        ...setting,
        ...range,
        count: 40,
        seed,
        targetAs: "name",
        noteBeats: pick([0.5, 1]),
        callBeats: 1,
      };
    case "bend":
      return {
        kind,
        ...setting,
        figure: pick(["hold", "from-above", "ladder"] as const),
        holdBeats: pick([1, 2]),
        restBeats: pick([0, 1]),
        repeats: 12,
        targetShown: true,
        seed,
      };
    case "arpeggio":
      return {
        kind,
        ...setting,
        ...running,
        ...range,
        octaves: 2,
        degree: pick(["1", "4", "5"]),
        size: pick(["triad", "seventh"] as const),
      };
    case "pattern":
      return {
        kind,
        ...setting,
        ...running,
        ...range,
        octaves: 1,
        figure: pick(["thirds", "1-2-3-1", "turns", "threes"] as const),
      };
    case "hole-jumps":
      return {
        kind,
        ...setting,
        ...running,
        jump: pick([1, 2, 3] as const),
        breath: pick(["blow", "draw", "alternate"] as const),
        direction: "both",
        repeats: 1,
      };
  }
}

function settingOf(tempo: number, random: Random, pick: <T>(from: readonly T[]) => T): DrillSetting {
  const layout = random() < 0.5 ? STOCK_LAYOUTS[0] : pick(STOCK_LAYOUTS);
  const key = pick(KEYS_BY_REGISTER);
  const harp = layout === undefined ? null : harpInKey(layout, key, hz(pick([440, 440, 442])));
  if (harp === null) throw new RangeError(`no ${key} harp`);
  return {
    harp,
    position: pick([1, 2, 3, 4, 5, 12] as const),
    mode: pick(MODES),
    abilities: PLAIN_AND_BENDS,
    tempo: { bpm: bpm(tempo), noteValue: "1/4" },
    countInBeats: 4,
  };
}
