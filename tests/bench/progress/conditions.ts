/** The players the bench asks: who do not change, who do, and who only seem to. */
import type { Form } from "./played.ts";
import { type Habits, USUAL_HABITS, USUAL_SCATTER } from "./player.ts";

/** What is counted of a player's months. */
export type Counted =
  /** Told of any change in any measure, in any line. */
  | "any change"
  /** Told of anything better or worse. */
  | "better or worse"
  /** Told that the intonation spread became better: of all attempts, of first attempts. */
  | "spread better"
  | "bends better";

export interface Condition {
  readonly name: string;
  /** What it is to show, and how often it may or must be told. */
  readonly counted: Counted;
  readonly bound: { readonly kind: "at most" | "at least"; readonly share: number } | null;
  /** Share of the players asked: all where a figure rests on it, fewer where it only shows how it moves. */
  readonly players: number;
  readonly habits: Habits;
}

const FEWER = 0.25;

const usual = (changes: Partial<Habits> = {}): Habits => ({ ...USUAL_HABITS, ...changes });

/** Deviation of a player's own that makes 12 cents, and later 9, with the scatter of the reeds' own tuning. */
const own = (cents: number) => Math.sqrt(cents * cents - USUAL_SCATTER.reedCents ** 2);

/** From 12 cents to 9, bends by the same share; nothing else changes. */
function threeCentsBetter(way: number, form: Form): Form {
  const share = own(12 - 3 * way) / own(12);
  return { ...form, spreadCents: own(12 - 3 * way), bendSpreadCents: form.bendSpreadCents * share };
}

/** Bends from 20 cents off to 17, by bending less too deep; their own scatter stays. */
const bendsCloser = (way: number, form: Form): Form => ({
  ...form,
  bendCents: -Math.sqrt((20 - 3 * way) ** 2 - form.bendSpreadCents ** 2),
});

const oneDrill = (place: number) => (place === 2 ? 1 : 0);
const AT_MOST_5 = { kind: "at most", share: 0.05 } as const;
const AT_LEAST_80 = { kind: "at least", share: 0.8 } as const;

/** A player in whom nothing changes, whatever is done differently. */
const UNCHANGED: readonly (readonly [string, Partial<Habits>])[] = [
  ["usual days", {}],
  ["40 sessions", { sessions: 40 }],
  ["8 sessions", { sessions: 8 }],
  ["one drill, once a day", { practised: oneDrill, attempts: () => [1, 1] }],
  [
    "one attempt at each at first, four at last",
    { attempts: (way) => (way < 1 / 3 ? [1, 1] : way < 2 / 3 ? [2, 2] : [4, 4]) },
  ],
  [
    "other exercises in the second half",
    { practised: (place, way) => (place === 0 ? Number(way < 0.6) : place === 2 ? Number(way > 0.4) : 0.5) },
  ],
  [
    "twice the scatter from day to day",
    { scatter: { ...USUAL_SCATTER, dayShare: 2 * USUAL_SCATTER.dayShare, badDays: 0.2 } },
  ],
  ["twice as much worse when cold", { scatter: { ...USUAL_SCATTER, coldShare: 0.3, coldCents: 8 } }],
];

/** Calibration that moves while the player does not. */
const DRIFTS: readonly (readonly [string, Habits["form"]])[] = [
  ["A moves by 6 cents", (way, form) => ({ ...form, biasCents: form.biasCents + 6 * way })],
  ["the delay moves by 15 ms", (way, form) => ({ ...form, biasMs: form.biasMs + 15 * way })],
  ["the room grows warmer, harps 8 cents higher", (way, form) => ({ ...form, biasCents: -8 + 8 * way })],
  [
    "all of these",
    (way, form) => ({ ...form, biasCents: form.biasCents - 14 * way, biasMs: form.biasMs - 15 * way }),
  ],
];

const BETTER: readonly (readonly [string, Partial<Habits>])[] = [
  ["usual days", {}],
  ["a third of the attempts", { attempts: () => [1, 1] }],
  ["two thirds of the attempts", { attempts: () => [1, 3] }],
  ["one drill, three times a day", { practised: oneDrill, attempts: () => [3, 3] }],
  ["no scatter from day to day", { scatter: { ...USUAL_SCATTER, dayShare: 0, badDays: 0 } }],
  [
    "twice the scatter from day to day",
    { scatter: { ...USUAL_SCATTER, dayShare: 2 * USUAL_SCATTER.dayShare } },
  ],
  ["three bad days in ten", { scatter: { ...USUAL_SCATTER, badDays: 0.3 } }],
  ["30 sessions", { sessions: 30 }],
];

const asked = (name: string, counted: Counted, changes: Partial<Habits>) => ({
  ...{ name, counted, habits: usual(changes) },
});

type Part = "unchanged" | "drift" | "better" | "bends";

export const CONDITIONS: Readonly<Record<Part, readonly Condition[]>> = {
  unchanged: UNCHANGED.map(([name, changes], place) => ({
    ...asked(name, "any change", changes),
    bound: AT_MOST_5,
    players: place === 0 ? 1 : FEWER,
  })),
  drift: DRIFTS.map(([name, form], place) => ({
    ...asked(name, "better or worse", { form }),
    bound: AT_MOST_5,
    players: place < 2 ? 1 : FEWER,
  })),
  better: BETTER.map(([name, changes], place) => ({
    ...asked(name, "spread better", { ...changes, form: threeCentsBetter }),
    bound: place === 0 ? AT_LEAST_80 : null,
    players: place === 0 ? 1 : FEWER,
  })),
  bends: [20, 40].map((sessions) => ({
    ...asked(`${sessions} sessions`, "bends better", { form: bendsCloser, sessions }),
    bound: null,
    players: FEWER,
  })),
};
