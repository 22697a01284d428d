import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { FuzzedReader } from "./fuzzed-reader.ts";

/** Which inputs are tried, and how. */
export interface Trial {
  readonly seed: number;
  /** Numbers of the first input and the one after the last. */
  readonly from: number;
  readonly to: number;
  /** The only reader tried; all in turn if null. */
  readonly only: string | null;
  /** One input in so many goes through the headless command too; none if 0. */
  readonly commandEvery: number;
  /** Folder of the files that commands need; inputs for commands are put there. */
  readonly beside: string;
}

/** What came of all inputs of one reader. */
export interface Tally {
  readonly inputs: number;
  readonly read: number;
  readonly refused: number;
  readonly commands: number;
  readonly slowestSeconds: number;
  readonly slowestInput: number;
}

export interface Found {
  readonly reader: string;
  readonly input: number;
  readonly what: string;
}

export type Told =
  | { readonly kind: "found"; readonly found: Found }
  | { readonly kind: "done"; readonly next: number; readonly tallies: Readonly<Record<string, Tally>> };

/** Places of the numbers a worker and whoever watches it share. */
export const SHARED = { input: 0, phase: 1, words: 2 } as const;
export const PHASES = ["making", "reading", "comparing", "commanding"] as const;

/** The reader whose turn an input is, and the input: of seed and number alone. */
export function inputOf(
  readers: readonly FuzzedReader[],
  { seed, only }: Pick<Trial, "seed" | "only">,
  number: number,
) {
  const tried = only === null ? readers : readers.filter(({ name }) => name === only);
  const reader = tried[number % tried.length];
  if (reader === undefined)
    throw new Error(`there is no reader ${only}; there are ${readers.map(({ name }) => name).join(", ")}`);
  return { reader, make: () => reader.make(seededRandom(Math.imul(seed, 0x9e3779b1) + number)) };
}
