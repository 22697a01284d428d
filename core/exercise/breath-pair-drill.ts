import { harpName } from "../instrument/harp.ts";
import { type ReedAction, sameAction } from "../instrument/reed-actions.ts";
import { actionInWords } from "../instrument/tab.ts";
import { BREATH_CAUTION } from "./caution.ts";
import { outside } from "./check-setting.ts";
import type { BreathPairDrill, DrillSpec, MadeExercise } from "./drill-spec.ts";
import { barOf, impossible, layOut, nextBar, type Placed, runOn } from "./lay-out.ts";
import { nameOf, type Reach, reachOf, type Step, withoutWhat } from "./reach.ts";
import { NOTES_PER_BEAT } from "./rhythm.ts";

/** Two reed actions back and forth in rounds, each faster than the one before and followed by as long a rest. */
export function breathPairDrill(spec: DrillSpec & { kind: "breath-pair" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = checkRounds(spec);
  if (reason !== null) return impossible(reason);
  const [first, second] = [stepOf(reach, spec.first), stepOf(reach, spec.second)];
  if (first === null) return impossible(explainAction(reach, spec.first));
  if (second === null) return impossible(explainAction(reach, spec.second));
  const names = [first, second].map((step) => `${actionInWords(step.action)} (${nameOf(reach, step.note)})`);
  return layOut(spec, reach, {
    title: `${names.join(" and ")}, ${spec.rounds.join(", ")} to the beat`,
    trains: `Changing between ${names.join(" and ")} without a gap, faster from round to round.`,
    placed: roundsOf(spec, [first, second]),
    caution: BREATH_CAUTION,
  });
}

function checkRounds(spec: BreathPairDrill): string | null {
  if (sameAction(spec.first, spec.second)) return `the two notes are the same: ${actionInWords(spec.first)}`;
  const reason = outside("the beats of a round", spec.roundBeats, 1, 64);
  if (reason !== null) return reason;
  const known = spec.rounds.every((round) => NOTES_PER_BEAT.includes(round));
  const rising = spec.rounds.every((round, place) => place === 0 || round > (spec.rounds[place - 1] ?? 0));
  return spec.rounds.length > 0 && known && rising
    ? null
    : `the rounds must rise, each with ${NOTES_PER_BEAT.join(", ")} notes to the beat, not ${spec.rounds.join(", ") || "none"}`;
}

function stepOf(reach: Reach, action: ReedAction): Step | null {
  return reach.all.find((step) => sameAction(step.action, action)) ?? null;
}

function explainAction(reach: Reach, action: ReedAction): string {
  const { harp, abilities } = reach.setting;
  return `${actionInWords(action)} cannot be sounded on a ${harpName(harp)} ${withoutWhat(abilities)}`;
}

function roundsOf(spec: DrillSpec & { kind: "breath-pair" }, pair: readonly Step[]): readonly Placed[] {
  const period = nextBar(2 * spec.roundBeats, barOf(spec));
  return spec.rounds.flatMap((notesPerBeat, round) => {
    const steps = Array.from({ length: spec.roundBeats * notesPerBeat }, (_, place) => pair[place % 2]);
    return runOn(
      steps.filter((step) => step !== undefined),
      notesPerBeat,
      round * period,
    );
  });
}
