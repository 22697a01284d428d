import type { Random } from "../../../core/exercise/seeded-random.ts";

/** What came of one input. */
export interface Outcome {
  readonly kind: "read" | "refused";
  /** What a reading owes its callers and does not give; empty where all is well. */
  readonly faults: readonly string[];
  /** Looks for what else it owes, written again for example; apart, as only the reading has to be quick. */
  readonly owed?: () => readonly string[];
}

/** A reader of files with what it is tried with. */
export interface FuzzedReader {
  /** In words without spaces: part of a file's name. */
  readonly name: string;
  /** How a file of its kind ends. */
  readonly ending: string;
  /** An input: a sound file changed, or one made up from what such files are built of. */
  readonly make: (random: Random) => Uint8Array;
  readonly read: (bytes: Uint8Array) => Outcome | Promise<Outcome>;
  /** The headless command that reads such a file and writes none; null where there is none so quick. */
  readonly command: ((path: string) => readonly string[]) | null;
}

export const READ: Outcome = { kind: "read", faults: [] };

/** Longer than any sentence of ours with words of the file in it. */
const LONGEST_REASON = 800;

/** A reason is one line of plain words, whatever stood in the file. */
export function refused(reason: string): Outcome {
  const faults: string[] = [];
  if (reason.trim() === "") faults.push("refused without a reason");
  if (reason.length > LONGEST_REASON) faults.push(`a reason of ${reason.length} characters`);
  if (/[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u.test(reason))
    faults.push(`a reason with characters that break or steer the line: ${JSON.stringify(reason)}`);
  return { kind: "refused", faults };
}

/** Faults of a reading that has to be plain data: what cannot be handed to a worker or the database is none. */
export function faultsOfData(value: unknown): readonly string[] {
  try {
    structuredClone(value);
    return [];
  } catch (error) {
    return [`not plain data: ${error instanceof Error ? error.message : error}`];
  }
}

export const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
