import { harpName } from "../instrument/harp.ts";
import { positionName, positionOfHome } from "../instrument/positions.ts";
import { pitchClassOfName } from "../pitch/note-names.ts";
import type { Tune } from "../tune/tune.ts";
import type { TunePlan } from "./tune-plan.ts";

const OCTAVE = 12;

/** "D harp, 1st position, an octave up": where a tune lies. */
export function onHarpWords(tune: Tune, { harp, shift }: Pick<TunePlan, "harp" | "shift">): string {
  const tonic = pitchClassOfName(tune.key.tonic);
  const parts = [
    harpName(harp),
    tonic === null ? "" : `${positionName(positionOfHome(harp, tonic))} position`,
    octavesInWords(shift / OCTAVE),
  ];
  return parts.filter((part) => part !== "").join(", ");
}

function octavesInWords(octaves: number): string {
  if (octaves === 0) return "";
  const count = Math.abs(octaves) === 1 ? "an octave" : `${Math.abs(octaves)} octaves`;
  return `${count} ${octaves > 0 ? "up" : "down"}`;
}

/** "C#6 (bar 4, bar 12)": what the harp lacks, as it would sound, and where; empty where it lacks nothing. */
export function lackingWords(tune: Tune, { path, shift }: Pick<TunePlan, "path" | "shift">): string {
  if (path.missing.length === 0) return "";
  const names = [
    ...new Set(path.missing.map(({ note }) => movedName(tune.notes[note]?.name ?? "", shift / OCTAVE))),
  ].join(", ");
  const bars = [...new Set(path.missing.map(({ where }) => where))].join(", ");
  return `${names} (${bars})`;
}

/** A note's name so many octaves higher: "A5" becomes "A6". */
export const movedName = (name: string, octaves: number): string =>
  name.replace(/-?\d+$/, (octave) => String(Number(octave) + octaves));
