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
  readonly habits: Habits;
}

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

export const CONDITIONS: Readonly<Record<"unchanged" | "drift" | "better" | "bends", readonly Condition[]>> =
  {
    unchanged: UNCHANGED.map(([name, changes]) => ({
      ...{ name, counted: "any change", bound: AT_MOST_5, habits: usual(changes) },
    })),
    drift: DRIFTS.map(([name, form]) => ({
      ...{ name, counted: "better or worse", bound: AT_MOST_5, habits: usual({ form }) },
    })),
    better: BETTER.map(([name, changes], place) => ({
      ...{ name, counted: "spread better", bound: place === 0 ? AT_LEAST_80 : null },
      habits: usual({ ...changes, form: threeCentsBetter }),
    })),
    bends: [
      { name: "usual days", counted: "bends better", bound: null, habits: usual({ form: bendsCloser }) },
      {
        name: "40 sessions",
        counted: "bends better",
        bound: null,
        habits: usual({ form: bendsCloser, sessions: 40 }),
      },
    ],
  };
