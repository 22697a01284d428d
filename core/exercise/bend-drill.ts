import { harpName } from "../instrument/harp.ts";
import { actionInWords, tab } from "../instrument/tab.ts";
import { outside } from "./check-setting.ts";
import type { BendDrill, BendFigure, DrillSpec, MadeExercise } from "./drill-spec.ts";
import { barOf, impossible, layOut, nextBar, type Placed } from "./lay-out.ts";
import { nameOf, type Reach, reachOf, type Step, withoutWhat } from "./reach.ts";
import { seededRandom } from "./seeded-random.ts";

/** What is practised, and the notes of one try in order. */
interface Try {
  readonly target: Step;
  readonly steps: readonly Step[];
}

/** One bent or overblown note practised by itself. */
export function bendDrill(spec: DrillSpec & { kind: "bend" }): MadeExercise {
  const reason = checkBend(spec);
  if (reason !== null) return impossible(reason);
  const reach = reachOf(spec);
  const tries = targetsOf(reach, spec).flatMap((target) => tryOf(reach, spec.figure, target));
  const chosen = tries[Math.floor(seededRandom(spec.seed)() * tries.length)];
  if (chosen === undefined) return impossible(explainNone(reach, spec));
  const name = `${actionInWords(chosen.target.action)} (${nameOf(reach, chosen.target.note)})`;
  return layOut(spec, reach, {
    title: `${name}, ${TITLES[spec.figure]}`,
    trains: trainsWhat(reach, spec, chosen, name),
    placed: triesInBars(spec, chosen.steps),
    targetShown: spec.targetShown,
  });
}

const TITLES: Readonly<Record<BendFigure, string>> = {
  hold: "reached and held",
  "from-above": "from the plain note",
  match: "against its plain note",
  ladder: "step by step",
};

function checkBend(spec: BendDrill): string | null {
  const onlyBends = spec.figure === "ladder" || spec.figure === "from-above";
  if (onlyBends && (spec.technique ?? "bend") !== "bend")
    return `${TITLES[spec.figure]} is a drill for bends, not for an ${spec.technique}`;
  return (
    outside("the hole", spec.hole ?? 1, 1, 16) ??
    outside("the depth of the bend in semitones", spec.bentSemitones ?? 1, 0, 24) ??
    outside("the length of a note", spec.holdBeats, 0.5, 16, false) ??
    outside("the rest", spec.restBeats, 0, 16, false) ??
    outside("the repeats", spec.repeats, 1, 32) ??
    outside("the seed", spec.seed, 0, 2 ** 32 - 1)
  );
}

/** The reed actions that fit what was chosen; a ladder goes to the deepest bend unless told how deep. */
function targetsOf(reach: Reach, spec: BendDrill): readonly Step[] {
  const fits = reach.all.filter(
    ({ action }) =>
      action.technique === (spec.technique ?? "bend") &&
      (spec.hole === undefined || action.hole === spec.hole) &&
      (spec.breath === undefined || action.breath === spec.breath) &&
      (spec.bentSemitones === undefined || action.bentSemitones === spec.bentSemitones),
  );
  if (spec.figure !== "ladder" || spec.bentSemitones !== undefined) return fits;
  return fits.filter(
    ({ action }) =>
      !fits.some(
        (other) => other.action.hole === action.hole && other.action.bentSemitones > action.bentSemitones,
      ),
  );
}

/** One try at a target; none where the figure needs a note the harp has not. */
function tryOf(reach: Reach, figure: BendFigure, target: Step): readonly Try[] {
  const above = () =>
    reach.all.filter(
      ({ action }) =>
        action.hole === target.action.hole &&
        action.breath === target.action.breath &&
        action.bentSemitones < target.action.bentSemitones &&
        (action.technique === "plain" || action.technique === "bend"),
    );
  switch (figure) {
    case "hold":
      return [{ target, steps: [target] }];
    case "from-above":
      return above()
        .filter(({ action }) => action.technique === "plain")
        .map((plain) => ({ target, steps: [plain, target] }));
    case "match": {
      const plain = plainTwin(reach, target);
      return plain === null ? [] : [{ target, steps: [plain, target, plain, target] }];
    }
    case "ladder": {
      const down = [...above()].sort((a, b) => a.action.bentSemitones - b.action.bentSemitones);
      return [{ target, steps: [...down, target, ...down.reverse()] }];
    }
  }
}

/** The same pitch sounded plain elsewhere, else the nearest octave of it. */
function plainTwin(reach: Reach, target: Step): Step | null {
  for (const octave of [0, 12, -12, 24, -24]) {
    const found = reach.all.find(
      ({ note, action }) => note === target.note + octave && action.technique === "plain",
    );
    if (found !== undefined) return found;
  }
  return null;
}

function explainNone(reach: Reach, spec: BendDrill): string {
  const hole = spec.hole === undefined ? "" : ` of hole ${spec.hole}`;
  const breath = spec.breath === undefined ? "" : ` ${spec.breath}`;
  const depth =
    spec.bentSemitones === undefined
      ? ""
      : ` by ${spec.bentSemitones} ${spec.bentSemitones === 1 ? "semitone" : "semitones"}`;
  const twin = spec.figure === "match" ? " that also sounds plain, there or in another octave" : "";
  const where = `on a ${harpName(spec.harp)} ${withoutWhat(reach.setting.abilities)}`;
  return `there is no ${spec.technique ?? "bend"}${hole}${breath}${depth}${twin} ${where}`;
}

function trainsWhat(reach: Reach, spec: BendDrill, chosen: Try, name: string): string {
  const seen = spec.targetShown ? "with the target to be seen" : "by ear, the target not shown";
  const [plain] = chosen.steps;
  const twin = plain === undefined ? "" : `${tab(plain.action)} (${nameOf(reach, plain.note)})`;
  const sentences: Readonly<Record<BendFigure, string>> = {
    hold: `Reaching ${name} from silence and holding it in tune`,
    "from-above": `Pulling ${name} down from the plain note and stopping there`,
    match: `Matching ${name} to plain ${twin}`,
    ladder: `Stopping at every semitone on the way to ${name} and back`,
  };
  return `${sentences[spec.figure]}, ${seen}.`;
}

/** Every try begins on a bar line. Coming from above, the plain note is a short start and the bend what is held. */
function triesInBars(spec: DrillSpec & BendDrill, steps: readonly Step[]): readonly Placed[] {
  const placed: Placed[] = [];
  let at = 0;
  for (let repeat = 0; repeat < spec.repeats; repeat++) {
    for (const step of steps) {
      const isApproach = spec.figure === "from-above" && step.action.technique === "plain";
      const lengthBeats = isApproach ? Math.min(1, spec.holdBeats) : spec.holdBeats;
      placed.push({ step, startBeats: at, lengthBeats });
      at += lengthBeats;
    }
    at = nextBar(at + spec.restBeats, barOf(spec));
  }
  return placed;
}
