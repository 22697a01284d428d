/** How a chord is struck within its beats. */
export const BACKING_STROKES = ["beats", "halves", "off-beats", "long-short", "held"] as const;
export type BackingStrokes = (typeof BACKING_STROKES)[number];

/** When a chord begins and how long it sounds, in beats. */
export interface Stroke {
  readonly startBeats: number;
  readonly lengthBeats: number;
  /** As long as it is written: up to the next, without the rest in which it is let go. */
  readonly writtenBeats: number;
}

/**
 * Where in a beat it is struck and for what part of the beat it sounds: let go before the next, as a breath needs it.
 * Common practice, no source.
 */
const IN_A_BEAT: Readonly<Record<Exclude<BackingStrokes, "held">, readonly Stroke[]>> = {
  beats: [{ startBeats: 0, lengthBeats: 3 / 4, writtenBeats: 1 }],
  halves: [
    { startBeats: 0, lengthBeats: 3 / 8, writtenBeats: 1 / 2 },
    { startBeats: 1 / 2, lengthBeats: 3 / 8, writtenBeats: 1 / 2 },
  ],
  "off-beats": [{ startBeats: 1 / 2, lengthBeats: 3 / 8, writtenBeats: 1 / 2 }],
  // Crotchet and quaver of a jig.
  "long-short": [
    { startBeats: 0, lengthBeats: 1 / 2, writtenBeats: 2 / 3 },
    { startBeats: 2 / 3, lengthBeats: 1 / 4, writtenBeats: 1 / 3 },
  ],
};

/** Of a held chord so much of a beat is left to turn the breath. */
const LEFT_TO_TURN = 1 / 4;

/** The strokes of a chord. @param beats whole beats it holds */
export function strokesOf(strokes: BackingStrokes, fromBeats: number, beats: number): readonly Stroke[] {
  if (strokes === "held")
    return [{ startBeats: fromBeats, lengthBeats: beats - LEFT_TO_TURN, writtenBeats: beats }];
  return Array.from({ length: beats }, (_, beat) =>
    IN_A_BEAT[strokes].map((stroke) => ({
      ...stroke,
      startBeats: fromBeats + beat + stroke.startBeats,
    })),
  ).flat();
}
