import { harpName } from "../instrument/harp.ts";
import type { Breath } from "../instrument/layout.ts";
import { pitchClass } from "../pitch/note-names.ts";
import { outside } from "./check-setting.ts";
import type { DrillSpec, MadeExercise, OneBreathDrill } from "./drill-spec.ts";
import { inDirection } from "./ladder.ts";
import { impossible } from "./lay-out.ts";
import { layOutPasses } from "./passes.ts";
import { homeAndMode, inPosition, type Reach, reachOf, type Step } from "./reach.ts";
import { bendsInWords } from "./scale-drill.ts";

/** Fewer notes than this are no run. */
const SHORTEST_RUN = 3;
const OUT_OR_IN: Readonly<Record<Breath, string>> = { blow: "breath out", draw: "breath in" };

/** As many notes of the mode as one breath gives, up and back. */
export function oneBreathDrill(spec: DrillSpec & { kind: "one-breath" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = outside("the repeats", spec.repeats, 1, 32);
  if (reason !== null) return impossible(reason);
  const rising = chooseRun(reach, spec);
  const breath = rising[0]?.action.breath;
  if (breath === undefined || rising.length < SHORTEST_RUN)
    return impossible(
      `${homeAndMode(reach)} ${inPosition(reach)} on a ${harpName(spec.harp)} has no ${SHORTEST_RUN} notes in a row on one ${spec.breath === "longest" ? "breath" : OUT_OR_IN[spec.breath]}`,
    );
  const pass = inDirection(rising, "both");
  const words = {
    title: `${rising.length} notes of ${homeAndMode(reach)} on one ${OUT_OR_IN[breath]}, up and back`,
    trains: `Spreading one ${OUT_OR_IN[breath]} over ${pass.length} notes, evenly loud to the last, ${bendsInWords(rising)}.`,
  };
  return layOutPasses(
    spec,
    reach,
    words,
    Array.from({ length: spec.repeats }, () => pass),
  );
}

function chooseRun(reach: Reach, spec: OneBreathDrill): readonly Step[] {
  const breaths: readonly Breath[] = spec.breath === "longest" ? ["blow", "draw"] : [spec.breath];
  const runs = breaths.map((breath) => longestRun(reach, breath));
  return runs.reduce((best, next) => (next.length > best.length ? next : best));
}

/** The longest rising row of the mode's notes on a breath, each in the same hole as the one before or the next. */
function longestRun(reach: Reach, breath: Breath): readonly Step[] {
  const inMode = new Set(reach.degrees.map((degree) => pitchClass(reach.homeClass + degree.aboveHome)));
  const steps = reach.all
    .filter(({ note, action }) => action.breath === breath && inMode.has(pitchClass(note)))
    .sort((a, b) => a.note - b.note || a.action.hole - b.action.hole);
  let longest: Step[] = [];
  let run: Step[] = [];
  for (const step of steps) {
    const before = run.at(-1);
    if (before?.note === step.note) continue;
    if (before !== undefined && Math.abs(step.action.hole - before.action.hole) > 1) run = [];
    run.push(step);
    if (run.length > longest.length) longest = [...run];
  }
  return longest;
}
