import { harpName } from "../instrument/harp.ts";
import type { Breath } from "../instrument/layout.ts";
import { outside } from "./check-setting.ts";
import type { DrillSpec, HoleJumpDrill, MadeExercise } from "./drill-spec.ts";
import { DIRECTION_WORDS } from "./ladder.ts";
import { impossible } from "./lay-out.ts";
import { layOutPasses } from "./passes.ts";
import { type Reach, reachOf, type Step } from "./reach.ts";

/** Plain reeds so many holes apart, all along the harp. */
export function holeJumpDrill(spec: DrillSpec & { kind: "hole-jumps" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = outside("the jump", spec.jump, 1, 4) ?? outside("the repeats", spec.repeats, 1, 32);
  if (reason !== null) return impossible(reason);
  const rising = longestWalk(reach, spec);
  const what = `${spec.jump} ${spec.jump === 1 ? "hole" : "holes"}`;
  if (rising.length < 2)
    return impossible(`a ${harpName(spec.harp)} has no two reeds ${what} apart ${BREATH_WORDS[spec.breath]}`);
  const falling = [...rising].reverse();
  const once = { up: [rising], down: [falling], both: [rising, falling] }[spec.direction];
  const words = {
    title: `Jumps of ${what}, ${BREATH_WORDS[spec.breath]}, ${DIRECTION_WORDS[spec.direction]}`,
    trains: `Landing ${what} away without touching the holes between, ${BREATH_WORDS[spec.breath]}.`,
  };
  return layOutPasses(spec, reach, words, Array.from({ length: spec.repeats }, () => once).flat());
}

const BREATH_WORDS: Readonly<Record<HoleJumpDrill["breath"], string>> = {
  blow: "all blown",
  draw: "all drawn",
  alternate: "low blown and high drawn",
};

/** Jumps begun on one hole after the other, as long as all their reeds are there. */
function longestWalk(reach: Reach, spec: HoleJumpDrill): readonly Step[] {
  const low: Breath = spec.breath === "alternate" ? "blow" : spec.breath;
  const high: Breath = spec.breath === "alternate" ? "draw" : spec.breath;
  let longest: Step[] = [];
  let walk: Step[] = [];
  for (let hole = 1; hole + spec.jump <= spec.harp.layout.holes.length; hole++) {
    const from = plainReed(reach, hole, low);
    const to = plainReed(reach, hole + spec.jump, high);
    if (from === null || to === null) walk = [];
    else walk.push(...jump(walk.at(-1), from, to));
    if (walk.length > longest.length) longest = [...walk];
  }
  return longest;
}

/** Neighbouring holes on one breath are walked, not sounded twice. */
function jump(before: Step | undefined, from: Step, to: Step): readonly Step[] {
  return before?.action.hole === from.action.hole && before.action.breath === from.action.breath
    ? [to]
    : [from, to];
}

function plainReed(reach: Reach, hole: number, breath: Breath): Step | null {
  const found = reach.all.find(
    ({ action }) => action.hole === hole && action.breath === breath && action.technique === "plain",
  );
  return found ?? null;
}
