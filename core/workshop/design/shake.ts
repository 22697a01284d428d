import { changedOf, isAllowed, type WholeLimits } from "./allowed.ts";
import type { HoleChoice } from "./hole-choices.ts";

/** Holes tuned at random before a walk begins again. */
const SHAKEN_HOLES = 3;

/** Some holes tuned at random, as far as it is allowed. */
export function shaken(
  holes: readonly HoleChoice[],
  choices: readonly (readonly HoleChoice[])[],
  random: () => number,
  whole: WholeLimits,
): readonly HoleChoice[] {
  const shaking = [...holes];
  for (let time = 0; time < SHAKEN_HOLES; time++) {
    const hole = Math.floor(random() * holes.length);
    const its = choices[hole] ?? [];
    const choice = its[Math.floor(random() * its.length)];
    if (choice === undefined) continue;
    shaking[hole] = choice;
    if (changedOf(shaking) > whole.mostChanged) putOneBack(shaking, choices, hole, random);
    if (!isAllowed(shaking, whole)) shaking.splice(0, shaking.length, ...holes);
  }
  return shaking;
}

/** Another changed hole goes back to what it was. */
function putOneBack(
  holes: HoleChoice[],
  choices: readonly (readonly HoleChoice[])[],
  not: number,
  random: () => number,
): void {
  const changed = [...holes.keys()].filter((hole) => hole !== not && (holes[hole]?.changed ?? 0) > 0);
  const hole = changed[Math.floor(random() * changed.length)];
  const back = hole === undefined ? undefined : choices[hole]?.[0];
  if (hole !== undefined && back !== undefined) holes[hole] = back;
}
