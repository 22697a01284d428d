import ABCJS from "abcjs";
import { expect } from "vitest";

export interface SoundingNote {
  readonly midi: number;
  /** In semibreves from the beginning of the tune. */
  readonly start: number;
  readonly length: number;
}

/** What an ABC text sounds, as abcjs 6.7.2 reads it [X]; tied notes are one. */
export function soundingNotes(abc: string): readonly SoundingNote[] {
  const tune = ABCJS.parseOnly(abc)[0];
  if (tune === undefined) throw new Error("no tune");
  expect(tune.warnings ?? []).toEqual([]);
  const tracks = tune.setUpAudio({ chordsOff: true }).tracks as unknown as {
    cmd: string;
    pitch: number;
    start: number;
    duration: number;
  }[][];
  return tracks.flatMap((track) =>
    track
      .filter((event) => event.cmd === "note")
      .map(({ pitch, start, duration }) => ({ midi: pitch, start, length: duration })),
  );
}
