import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import type { ReedDay } from "../../core/progress/counts/roll-ups.ts";
import { pairPictures, reedPictures } from "../../core/progress/spots/spot-pictures.ts";
import { weakSpotsOf } from "../../core/progress/spots/weak-spots.ts";
import type { Days, PlayedHarp, WeakSpotsAnswer, WeakSpotsAsk } from "../progress/progress-view.ts";
import type { ProgressSources } from "./progress-sources.ts";

/** What cost most in a range of days, on the harp asked for or the one with the most notes. */
export async function weakSpotsOfDays(
  { progress, exerciseOf }: ProgressSources,
  days: Days,
  { harp: wanted }: WeakSpotsAsk,
): Promise<WeakSpotsAnswer> {
  const rows = await progress.reedDays(days.from, days.to);
  const played = await Promise.all(
    [...rowsByHarp(rows)].map(async ([key, of]) => {
      const notes = of
        .flatMap(({ reeds }) => Object.values(reeds))
        .reduce((sum, { asked }) => sum + asked, 0);
      const exercise = await latestExercise(of, exerciseOf);
      return { key, rows: of, notes, exercise };
    }),
  );
  const judged = played.filter(({ notes }) => notes > 0).sort((one, other) => other.notes - one.notes);
  const harps = judged.map(
    ({ key, notes, exercise }): PlayedHarp => ({ key, notes, name: nameOf(exercise) }),
  );
  const place = Math.max(
    0,
    judged.findIndex(({ key }) => key === wanted),
  );
  const [chosen, harp] = [judged[place], harps[place]];
  if (chosen === undefined || harp === undefined || chosen.exercise === null)
    return { days, harps, shown: null };
  const { rows: own, exercise } = chosen;
  const [reeds, pairs] = [reedPictures(own), pairPictures(own)];
  return {
    days,
    harps,
    shown: { harp, setting: settingOf(exercise), spots: weakSpotsOf(own), reeds, pairs },
  };
}

function rowsByHarp(rows: readonly ReedDay[]): ReadonlyMap<string, readonly ReedDay[]> {
  const byHarp = new Map<string, ReedDay[]>();
  for (const row of rows) {
    const same = byHarp.get(row.harp);
    if (same === undefined) byHarp.set(row.harp, [row]);
    else same.push(row);
  }
  return byHarp;
}

/** Of the last day; its attempt holds the harp as it was. Null if it was deleted meanwhile. */
const latestExercise = async (
  rows: readonly ReedDay[],
  exerciseOf: ProgressSources["exerciseOf"],
): Promise<Exercise | null> => {
  const last = rows.at(-1);
  return last === undefined ? null : exerciseOf(last.first.id);
};

/** "G harp", with its layout where that is not the usual one. */
function nameOf(exercise: Exercise | null): string {
  if (exercise === null) return "another harp";
  const { harp } = exercise;
  return harp.layout.id === "standard" ? harpName(harp) : `${harpName(harp)}, ${harp.layout.name}`;
}

function settingOf({ harp, position, mode, tempo, countInBeats, beatsPerBar }: Exercise): DrillSetting {
  return { harp, position, mode, tempo, countInBeats, beatsPerBar, abilities: PLAIN_AND_BENDS };
}
