import * as v from "valibot";
import { type PracticeDay, readPracticeDay } from "../practice-day.ts";
import {
  lineName,
  PLAN_KINDS,
  type Plan,
  type PlanLine,
  type PlanPart,
  type PlayedLine,
  plannedMinutes,
} from "./plan-shape.ts";
import { minutesInWords } from "./plan-words.ts";

/** A plan the player has begun or changed, and how far it is: kept for its day. */
export interface KeptPlan {
  readonly plan: Plan;
  /** By name of the line; a line that is absent was not come to. */
  readonly lines: Readonly<Record<string, LineState>>;
  /** Items that stood in the plan and were swapped for others. */
  readonly left: readonly string[];
}

export interface LineState {
  readonly state: "open" | "done" | "skipped";
  /** Of practising it or resting. */
  readonly seconds: number;
  readonly takes: number;
}

const UNTOUCHED: LineState = { state: "open", seconds: 0, takes: 0 };

export const keptPlan = (plan: Plan): KeptPlan => ({ plan, lines: {}, left: [] });

export const lineState = (kept: KeptPlan, name: string): LineState => kept.lines[name] ?? UNTOUCHED;

export const withLineState = (kept: KeptPlan, name: string, part: Partial<LineState>): KeptPlan => ({
  ...kept,
  lines: { ...kept.lines, [name]: { ...lineState(kept, name), ...part } },
});

/** Whether any of it was practised. */
export const isBegun = ({ lines }: KeptPlan): boolean =>
  Object.values(lines).some(({ seconds, takes }) => seconds > 0 || takes > 0);

/** A line that is skipped is open again, any other skipped. One that is done stays so. */
export function withSkipped(kept: KeptPlan, name: string): KeptPlan {
  const { state } = lineState(kept, name);
  if (state === "done") return kept;
  return withLineState(kept, name, { state: state === "skipped" ? "open" : "skipped" });
}

/** The plan without an item the player does not want today: off its line, or with its line skipped where nothing else is on it. */
export function withoutItem(kept: KeptPlan, item: string): KeptPlan {
  const line = kept.plan.lines.find(
    (one) => one.kind !== "rest" && one.parts.some((part) => part.item === item),
  );
  if (line === undefined || line.kind === "rest") return kept;
  const name = lineName(line);
  if (line.parts.length === 1) return withSkipped(withLineState(kept, name, { state: "open" }), name);
  const parts = line.parts.filter((part) => part.item !== item);
  const lines = kept.plan.lines.map((one) => (one === line ? { ...line, parts } : one));
  return { ...kept, plan: { ...kept.plan, lines } };
}

/** The line that comes next; null where the plan is at its end. Nobody rests before playing, twice running, or at the end. */
export function openLine(kept: KeptPlan): PlanLine | null {
  const { lines } = kept.plan;
  const isOpen = (line: PlanLine) => lineState(kept, lineName(line)).state === "open";
  const next = lines.find((line, place) => {
    if (!isOpen(line)) return false;
    if (line.kind !== "rest") return true;
    return (
      needsRest(kept, lines.slice(0, place)) &&
      lines.slice(place).some((one) => one.kind !== "rest" && isOpen(one))
    );
  });
  return next ?? null;
}

/** The plan as it is taken up after a pause: who was away has rested. */
export function takenUp(kept: KeptPlan): KeptPlan {
  const next = openLine(kept);
  return next?.kind === "rest" ? withLineState(kept, lineName(next), { state: "skipped" }) : kept;
}

/** Whether anything was played since the last rest. */
function needsRest(kept: KeptPlan, before: readonly PlanLine[]): boolean {
  const touched = before.filter((line) => lineState(kept, lineName(line)).seconds > 0);
  return touched.length > 0 && touched.at(-1)?.kind !== "rest";
}

/** Seconds of a line that are left, at least 0. */
export const leftSeconds = (kept: KeptPlan, line: PlanLine): number =>
  Math.max(0, 60 * line.minutes - lineState(kept, lineName(line)).seconds);

/** The part of a line whose turn it is: the next after each take, or each for its share of the minutes. */
export function partNow(kept: KeptPlan, line: PlayedLine): PlanPart {
  const { takes, seconds } = lineState(kept, lineName(line));
  const count = line.parts.length;
  const share = Math.min(count - 1, Math.floor((count * seconds) / (60 * line.minutes)));
  const part = line.parts[line.turns === "mixed" ? takes % count : share];
  if (part === undefined) throw new RangeError(`the line ${lineName(line)} has no parts`);
  return part;
}

/** "5 of 6 lines, 24 minutes of practice.": what came of it. */
export function doneInWords(kept: KeptPlan): string {
  const played = kept.plan.lines.filter(({ kind }) => kind !== "rest");
  const done = played.filter((line) => lineState(kept, lineName(line)).state === "done");
  const seconds = played.reduce((sum, line) => sum + lineState(kept, lineName(line)).seconds, 0);
  const lines = `${done.length} of ${played.length} ${played.length === 1 ? "line" : "lines"}`;
  return `${lines}, ${minutesInWords(Math.round(seconds / 60))} of practice.`;
}

const count = v.pipe(v.number(), v.minValue(0), v.maxValue(86_400));
const recipeShape = v.variant("kind", [
  v.object({ kind: v.literal("drill"), spec: v.looseObject({ kind: v.string() }) }),
  v.object({ kind: v.literal("attempt"), id: v.string() }),
  v.object({ kind: v.literal("tune"), tuneId: v.string(), rung: v.string() }),
]);
const partShape = v.object({
  item: v.string(),
  title: v.string(),
  harp: v.string(),
  recipe: recipeShape,
  why: v.string(),
});
const lineShape = { number: count, minutes: count, why: v.string() };
const keptShape = v.object({
  plan: v.object({
    day: v.pipe(
      v.string(),
      v.check((text) => readPracticeDay(text) !== null),
    ),
    minutes: count,
    lines: v.array(
      v.variant("kind", [
        v.object({ kind: v.literal("rest"), ...lineShape }),
        v.object({
          kind: v.picklist(PLAN_KINDS),
          ...lineShape,
          parts: v.pipe(v.array(partShape), v.minLength(1)),
          turns: v.picklist(["mixed", "blocked"]),
        }),
      ]),
    ),
  }),
  lines: v.record(
    v.string(),
    v.object({ state: v.picklist(["open", "done", "skipped"]), seconds: count, takes: count }),
  ),
  left: v.array(v.string()),
});

/**
 * The plan kept for a day, from kept data of unknown shape; null for another day's, an empty or a damaged one. What a drill is
 * made from is not looked into: whoever makes it has to be ready for one that cannot be made.
 */
export function readKeptPlan(kept: unknown, day: PracticeDay): KeptPlan | null {
  const read = v.safeParse(keptShape, kept);
  if (!read.success || read.output.plan.day !== day || read.output.plan.lines.length === 0) return null;
  return plannedMinutes(read.output.plan as unknown as Plan) > 0
    ? (read.output as unknown as KeptPlan)
    : null;
}
