import type { ReedAction } from "../instrument/reed-actions.ts";
import { actionInWords, tab } from "../instrument/tab.ts";
import { hurry, moveEffort, noteCost, secondsFor } from "./cost.ts";
import type { Line } from "./line.ts";
import type { Weights } from "./weights.ts";

/** What is hard: a jump over holes, a step and a turn of breath at once, turns within one hole, a bent or overblown note. */
export type SpotKind = "jump" | "turned step" | "turns in one hole" | "bend" | "overblow";

export interface SpotPlace {
  /** Places in the line of the first note and the last. */
  readonly from: number;
  readonly to: number;
  readonly where: string;
}

export interface DifficultSpot {
  readonly kind: SpotKind;
  /** Where it comes first. */
  readonly where: string;
  /** Everywhere it comes, in playing order. */
  readonly at: readonly SpotPlace[];
  /** In efforts, where it costs most. */
  readonly cost: number;
  /** Shortest time from onset to onset in it, or the time the bent note has. */
  readonly seconds: number;
  /** "hole jump of 4 with breath change in 125 ms (3 blow to 7 draw), bar 7". */
  readonly words: string;
}

/** A breath change within a quarter of a second costs 1 with the first weights: what costs twice that is worth telling. */
export const HARD_FROM = 2;

/**
 * What is hard in a path, dearest first.
 *
 * @param actions one for each note of the line, null where it is not sounded
 * @param hardFrom least cost of a spot, in efforts
 */
export function difficultSpots(
  line: Line,
  actions: readonly (ReedAction | null)[],
  weights: Weights,
  hardFrom: number = HARD_FROM,
): readonly DifficultSpot[] {
  const sounded = soundedNotes(actions);
  const all = [...moves(line, sounded, weights), ...bends(line, sounded, weights)];
  return together(
    line,
    all.filter((spot) => spot.cost >= hardFrom - 1e-9),
  ).sort((one, other) => other.cost - one.cost || other.at.length - one.at.length);
}

interface Sounded {
  readonly note: number;
  readonly action: ReedAction;
}

interface Spot extends Pick<DifficultSpot, "kind" | "cost" | "seconds"> {
  readonly from: number;
  readonly to: number;
  readonly what: string;
  /** Holes and breaths: what is the same move is the same spot. */
  readonly actions: string;
}

const soundedNotes = (actions: readonly (ReedAction | null)[]): readonly Sounded[] =>
  actions.flatMap((action, note) => (action === null ? [] : [{ note, action }]));

const inMilliseconds = (seconds: number) => `${Math.round(1000 * seconds)} ms`;

function bends(line: Line, sounded: readonly Sounded[], weights: Weights): readonly Spot[] {
  return sounded.flatMap(({ note, action }): readonly Spot[] => {
    const its = line[note];
    if (its === undefined || action.technique === "plain") return [];
    const next = line[note + 1] ?? null;
    const seconds = secondsFor(its, next);
    return [
      {
        kind: action.technique === "bend" ? "bend" : "overblow",
        from: note,
        to: note,
        cost: noteCost(its, next, action, weights),
        seconds,
        what: `${actionInWords(action)}, for ${inMilliseconds(seconds)}`,
        actions: tab(action),
      },
    ];
  });
}

/** Every move with its cost; turns in one hole that follow one another are one spot. */
function moves(line: Line, sounded: readonly Sounded[], weights: Weights): readonly Spot[] {
  const spots: Spot[] = [];
  let turns: Turns | null = null;
  for (const [place, to] of sounded.entries()) {
    const from = sounded[place - 1];
    const [first, second] = [line[from?.note ?? -1], line[to.note]];
    if (from === undefined || first === undefined || second === undefined) continue;
    const seconds = secondsFor(first, second);
    const cost = hurry(seconds, weights) * moveEffort(from.action, to.action, weights);
    const holes = Math.abs(to.action.hole - from.action.hole);
    const turned = to.action.breath !== from.action.breath;
    if (holes === 0 && turned) {
      turns = goOn(turns, from, to, seconds, cost);
      continue;
    }
    if (turns !== null) spots.push(turnsSpot(turns));
    turns = null;
    if (holes > 1 || (holes === 1 && turned)) spots.push(moveSpot(from, to, seconds, cost));
  }
  if (turns !== null) spots.push(turnsSpot(turns));
  return spots;
}

function moveSpot(from: Sounded, to: Sounded, seconds: number, cost: number): Spot {
  const holes = Math.abs(to.action.hole - from.action.hole);
  const jump = holes > 1 ? `hole jump of ${holes}` : "step to the next hole";
  const change = to.action.breath === from.action.breath ? "" : " with breath change";
  const way = `${actionInWords(from.action)} to ${actionInWords(to.action)}`;
  return {
    kind: holes > 1 ? "jump" : "turned step",
    from: from.note,
    to: to.note,
    cost,
    seconds,
    what: `${jump}${change} in ${inMilliseconds(seconds)} (${way})`,
    actions: `${tab(from.action)} ${tab(to.action)}`,
  };
}

interface Turns {
  readonly hole: number;
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly seconds: number;
  readonly cost: number;
}

function goOn(turns: Turns | null, from: Sounded, to: Sounded, seconds: number, cost: number): Turns {
  return {
    hole: to.action.hole,
    from: turns?.from ?? from.note,
    to: to.note,
    count: (turns?.count ?? 0) + 1,
    seconds: Math.min(turns?.seconds ?? seconds, seconds),
    cost: (turns?.cost ?? 0) + cost,
  };
}

function turnsSpot({ hole, from, to, count, seconds, cost }: Turns): Spot {
  const within = inMilliseconds(seconds);
  const what =
    count === 1
      ? `breath turned in hole ${hole} in ${within}`
      : `breath turned ${count} times in hole ${hole}, as little as ${within} each`;
  return { kind: "turns in one hole", from, to, cost, seconds, what, actions: String(hole) };
}

/** The same move in the same time is told once, with everywhere it comes. */
function together(line: Line, spots: readonly Spot[]): DifficultSpot[] {
  const found = new Map<string, DifficultSpot>();
  for (const { what, actions, from, to, ...spot } of [...spots].sort((one, other) => one.from - other.from)) {
    const where = line[to]?.where ?? "bar 1";
    const key = `${actions}: ${what}`;
    const known = found.get(key);
    const at = [...(known?.at ?? []), { from, to, where }];
    const cost = Math.max(spot.cost, known?.cost ?? 0);
    found.set(key, { ...(known ?? { ...spot, where, words: `${what}, ${where}` }), at, cost });
  }
  return [...found.values()];
}
