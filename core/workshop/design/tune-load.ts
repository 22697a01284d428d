import type { LineSummary } from "../../path/line-summary.ts";

/** Notes above the key note that matter: as far as any reed, bend or overblow of a layout goes. */
export const LOWEST_NOTE = -30;
export const NOTES = 100;

/**
 * What many tunes, each in its lie, ask of one layout: all their notes and moves added up, so that a layout is judged at once.
 * Notes by `note above the key note - LOWEST_NOTE`.
 */
export interface TuneLoad {
  readonly counts: Float64Array;
  /** Sum of how many times an effort counts in the note. */
  readonly hurries: Float64Array;
  /** Moves from note to note, each pair once. */
  readonly from: Int16Array;
  readonly to: Int16Array;
  readonly hurry: Float64Array;
  readonly joined: Float64Array;
  /** For each note the moves from or to it. */
  readonly movesAt: readonly Int32Array[];
}

/** Adds tunes up. @param keyNotes where the layout's key note lies for each tune, see `Lie` */
export function tuneLoad(
  tunes: readonly { readonly summary: LineSummary; readonly weight: number }[],
  keyNotes: readonly number[],
): TuneLoad {
  const counts = new Float64Array(NOTES);
  const hurries = new Float64Array(NOTES);
  const moves = new Map<number, { from: number; to: number; hurry: number; joined: number }>();
  for (const [place, { summary, weight }] of tunes.entries()) {
    const down = (keyNotes[place] ?? 0) + LOWEST_NOTE;
    const noteAt = (pitch: number) => Math.min(NOTES - 1, Math.max(0, pitch - down));
    for (let at = 0; at < summary.pitches.length; at++) {
      const note = noteAt(summary.pitches[at] ?? 0);
      counts[note] = (counts[note] ?? 0) + weight * (summary.counts[at] ?? 0);
      hurries[note] = (hurries[note] ?? 0) + weight * (summary.hurries[at] ?? 0);
    }
    const { from, to, hurry, joined } = summary.steps;
    for (let step = 0; step < from.length; step++) {
      const [one, other] = [noteAt(from[step] ?? 0), noteAt(to[step] ?? 0)];
      const key = one * NOTES + other;
      const move = moves.get(key) ?? { from: one, to: other, hurry: 0, joined: 0 };
      move.hurry += weight * (hurry[step] ?? 0);
      move.joined += weight * (joined[step] ?? 0);
      moves.set(key, move);
    }
  }
  return { counts, hurries, ...columns([...moves.values()]) };
}

function columns(
  moves: readonly { from: number; to: number; hurry: number; joined: number }[],
): Omit<TuneLoad, "counts" | "hurries"> {
  const movesAt = Array.from({ length: NOTES }, (_, note) =>
    Int32Array.from(
      [...moves.entries()].filter(([, { from, to }]) => from === note || to === note).map(([place]) => place),
    ),
  );
  return {
    from: Int16Array.from(moves, ({ from }) => from),
    to: Int16Array.from(moves, ({ to }) => to),
    hurry: Float64Array.from(moves, ({ hurry }) => hurry),
    joined: Float64Array.from(moves, ({ joined }) => joined),
    movesAt,
  };
}
