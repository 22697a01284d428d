import { outside } from "./check-setting.ts";
import type { DrillSpec, MadeExercise, RandomNoteDrill, TargetAs } from "./drill-spec.ts";
import { explainMissing, findStretch, ladderOf, unknownDegree } from "./ladder.ts";
import { impossible, layOut, type Placed } from "./lay-out.ts";
import { homeAndMode, inPosition, reachOf, type Step } from "./reach.ts";
import { rangeInWords } from "./scale-drill.ts";
import { type Random, seededRandom } from "./seeded-random.ts";

const TOLD: Readonly<Record<TargetAs, string>> = {
  name: "by name",
  degree: "by degree",
  heard: "by ear",
};

/** Notes of the scale in an order drawn by the seed; never the same twice running. */
export function randomNoteDrill(spec: DrillSpec & { kind: "random-notes" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = unknownDegree(reach, spec.fromDegree) ?? checkNumbers(spec);
  if (reason !== null) return impossible(reason);
  const found = findStretch(ladderOf(reach), spec);
  const what = `${rangeInWords(spec)} of ${homeAndMode(reach)}`;
  if (found.kind === "missing") return impossible(explainMissing(reach, what, found.notes));
  const steps = drawNotes(found.steps, spec, seededRandom(spec.seed));
  return layOut(spec, reach, {
    title: `Random notes ${TOLD[spec.targetAs]}, ${what}`,
    trains: `Finding any note of ${homeAndMode(reach)} ${inPosition(reach)} ${TOLD[spec.targetAs]}, without the help of a row.`,
    placed: callAndAnswer(steps, spec),
    targetAs: spec.targetAs,
  });
}

function checkNumbers(spec: RandomNoteDrill): string | null {
  const reason =
    outside("the count of notes", spec.count, 1, 500) ??
    outside("the seed", spec.seed, 0, 2 ** 32 - 1) ??
    outside("the length of a note", spec.noteBeats, 0.25, 16, false) ??
    outside("the time between call and note", spec.callBeats, 0, 16, false) ??
    outside("the largest leap", spec.largestLeap ?? 1, 1, 100);
  if (reason !== null || spec.targetAs !== "heard" || spec.callBeats >= spec.noteBeats) return reason;
  return `a note by ear is heard before it is played: the ${spec.callBeats} beats before it are too short for a note of ${spec.noteBeats}`;
}

function drawNotes(steps: readonly Step[], spec: RandomNoteDrill, random: Random): readonly Step[] {
  const leap = spec.largestLeap ?? steps.length;
  const drawn: Step[] = [];
  let at = Math.floor(random() * steps.length);
  for (let place = 0; place < spec.count; place++) {
    const step = steps[at];
    if (step !== undefined) drawn.push(step);
    const low = Math.max(0, at - leap);
    const high = Math.min(steps.length - 1, at + leap);
    // One of the others within reach: the places after `at` move down by one to close the gap it leaves.
    const next = low + Math.floor(random() * (high - low));
    at = next >= at ? next + 1 : next;
  }
  return drawn;
}

function callAndAnswer(steps: readonly Step[], spec: RandomNoteDrill): readonly Placed[] {
  const period = spec.callBeats + spec.noteBeats;
  return steps.map((step, place) => ({
    step,
    startBeats: place * period + spec.callBeats,
    lengthBeats: spec.noteBeats,
    ...(spec.callBeats === 0 ? {} : { calledAtBeats: place * period }),
  }));
}
