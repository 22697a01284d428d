import { usualProgression } from "../../exercise/chords.ts";
import type { DrillSetting, DrillSpec } from "../../exercise/drill-spec.ts";
import { makeDrill } from "../../exercise/make-drill.ts";
import { harpName } from "../../instrument/harp.ts";
import type { Tempo } from "../../tune/tempo.ts";
import { bpm } from "../../units.ts";
import { itemOf } from "../counts/likeness.ts";
import type { PlanPair, PlanPart } from "./plan-shape.ts";

/** Slow enough to begin with, whatever the player's drills are set to; common practice, no source. */
const CALM: Tempo = { noteValue: "1/4", bpm: bpm(60) };
const ROUNDS = [1, 2, 4] as const;
const ROUND_BEATS = 8;

/** A part that plays a drill; null where harp and player allow none. */
export function drillPart(spec: DrillSpec, why: string): PlanPart | null {
  const made = makeDrill(spec);
  if (made.kind === "impossible") return null;
  const { exercise } = made;
  return {
    item: itemOf(exercise),
    title: exercise.title,
    harp: harpName(exercise.harp),
    recipe: { kind: "drill", spec },
    why,
  };
}

/** Long tones to warm up with: every note held four beats, with as long a rest; the first is the usual one. */
export function warmUpDrills(setting: DrillSetting): readonly DrillSpec[] {
  const tones = { kind: "long-tones", ...setting, tempo: CALM, toneBeats: 4, restBeats: 4 } as const;
  return [
    { ...tones, octaves: 1, start: "easiest", direction: "up" },
    { ...tones, octaves: 1, start: "easiest", direction: "down" },
    { ...tones, octaves: 1, start: "lowest", direction: "up" },
    { ...tones, octaves: 2, start: "easiest", direction: "up" },
  ];
}

/** Two reed actions back and forth, faster from round to round. */
export function pairDrill(setting: DrillSetting, { harp, first, second }: PlanPair): DrillSpec {
  const rounds = { rounds: ROUNDS, roundBeats: ROUND_BEATS };
  // Who was asked for them is asked for them again, whatever the drills are set to just now.
  const overbends = [first, second].some(({ technique }) => technique.startsWith("over"));
  const abilities = { bends: true, overbends };
  return { kind: "breath-pair", ...setting, harp, abilities, tempo: CALM, first, second, ...rounds };
}

/**
 * Drills to try one after the other, the plainer ones first: scale and chord before figures, on the page before by ear.
 * Common practice, no source.
 */
export function drillsToTry(setting: DrillSetting, seed: number): readonly DrillSpec[] {
  const calm: DrillSetting = { ...setting, tempo: CALM };
  const range = { octaves: 1, start: "easiest" } as const;
  const slow = { notesPerBeat: 1 } as const;
  const quick = { notesPerBeat: 2 } as const;
  const numerals = usualProgression(setting.mode);
  const called = { count: 16, seed, noteBeats: 2, callBeats: 2 } as const;
  const chord = { degree: "1", direction: "both" } as const;
  const hold = { targetShown: true, seed, restBeats: 4, repeats: 4 } as const;
  return [
    { kind: "scale", ...calm, ...range, ...slow, direction: "both" },
    { kind: "arpeggio", ...calm, ...range, ...slow, ...chord, size: "triad" },
    { kind: "hole-jumps", ...calm, ...slow, jump: 1, breath: "alternate", direction: "both", repeats: 2 },
    { kind: "pattern", ...calm, ...range, ...slow, figure: "1-2-3-1", direction: "up" },
    { kind: "random-notes", ...calm, ...range, ...called, targetAs: "name" },
    { kind: "scale", ...calm, ...range, ...quick, direction: "both" },
    { kind: "bend", ...calm, ...hold, figure: "from-above", holdBeats: 3 },
    { kind: "pattern", ...calm, ...range, ...slow, figure: "thirds", direction: "up" },
    ...(numerals === null
      ? []
      : [
          {
            kind: "progression",
            ...calm,
            ...slow,
            numerals,
            figure: "up",
            start: "easiest",
            repeats: 1,
          } as const,
        ]),
    { kind: "random-notes", ...calm, ...range, ...called, targetAs: "degree" },
    { kind: "one-breath", ...calm, ...slow, breath: "longest", repeats: 4 },
    { kind: "hole-jumps", ...calm, ...slow, jump: 2, breath: "alternate", direction: "both", repeats: 2 },
    { kind: "pattern", ...calm, ...range, ...quick, figure: "threes", direction: "both" },
    { kind: "random-notes", ...calm, ...range, ...called, targetAs: "heard" },
    { kind: "bend", ...calm, ...hold, figure: "hold", holdBeats: 4 },
    { kind: "arpeggio", ...calm, ...range, ...slow, ...chord, size: "seventh" },
    { kind: "pattern", ...calm, ...range, ...quick, figure: "fours", direction: "both" },
    { kind: "scale", ...calm, ...quick, octaves: "plain range", start: "lowest", direction: "both" },
  ];
}
