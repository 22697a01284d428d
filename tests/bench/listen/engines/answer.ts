/** What an engine answers: the JSON of the `listen` command, or as much of it as the engine can give. */
export interface Answer {
  /** Ascending, constant hop. `t` seconds to the centre of the window; `f0` Hz, negative where judged unvoiced, 0 for none. */
  readonly frames: readonly { readonly t: number; readonly f0: number }[];
  readonly notes: readonly AnswerNote[];
  /** Half a window, one hop and any look-ahead. */
  readonly latencyMs?: number;
}

export interface AnswerNote {
  /** Seconds. */
  readonly on: number;
  readonly off: number;
  /** Whole or fractional; 0 where only the onset is known. */
  readonly midi: number;
  /** Cents from `midi`. */
  readonly cents?: number;
  readonly leak?: { readonly midi: number; readonly db: number } | null;
}

export const NOTHING_HEARD: Answer = { frames: [], notes: [] };

/**
 * Reads an engine's standard output; text before the first brace is left out.
 *
 * @returns null if there is no such JSON in it
 */
export function readAnswer(output: string): Answer | null {
  try {
    const value: unknown = JSON.parse(output.slice(Math.max(0, output.indexOf("{"))));
    if (typeof value !== "object" || value === null) return null;
    const { frames = [], notes = [] } = value as Partial<Answer>;
    if (!isListOf(frames, ["t", "f0"]) || !isListOf(notes, ["on", "off", "midi"])) return null;
    return { ...(value as Partial<Answer>), frames, notes };
  } catch {
    return null;
  }
}

function isListOf(list: unknown, numbers: readonly string[]): boolean {
  if (!Array.isArray(list)) return false;
  return list.every(
    (one: unknown) =>
      typeof one === "object" &&
      one !== null &&
      numbers.every((key) => typeof (one as Record<string, unknown>)[key] === "number"),
  );
}
