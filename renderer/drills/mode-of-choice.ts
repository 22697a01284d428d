import { degreeSetOf, readDegrees } from "../../core/pitch/degrees.ts";
import { type Degree, type Mode, modeDegrees, type ReadMode } from "../../core/pitch/modes.ts";
import { type DrillChoice, SET_OF_DEGREES } from "./drill-choice.ts";

/** The mode of a choice: by name, or the set of degrees as typed, which may be none. */
export function modeOfChoice(choice: DrillChoice): ReadMode {
  if (choice.mode !== SET_OF_DEGREES) return { kind: "mode", mode: choice.mode };
  const read = readDegrees(choice.degrees);
  return read.kind === "degrees" ? { kind: "mode", mode: degreeSetOf(read.degrees) } : read;
}

/** Degrees to choose from; none while a set is half typed. */
export function degreesOfChoice(choice: DrillChoice): readonly Degree[] {
  const read = modeOfChoice(choice);
  return read.kind === "mode" ? modeDegrees(read.mode) : [];
}

/** A degree as another mode has it: "b3" for a "3" kept from major; its first degree where it has no third at all. */
export function degreeInMode(mode: Mode, kept: string): string {
  const degrees = modeDegrees(mode);
  const own = degrees.find((one) => one.name === kept);
  const like = degrees.find((one) => one.name.at(-1) === kept.at(-1));
  return (own ?? like ?? degrees[0])?.name ?? "1";
}
