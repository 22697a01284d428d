import type { FrameTrack } from "./frame-track.ts";
import type { NoteEdges } from "./note-edges.ts";

/**
 * A reed sounded again goes down and comes back this much within 25 ms in most of its harmonics; a 5 Hz tremolo of 35 %
 * rises 4.3 dB. A room makes single harmonics swing, each at its own time, as it fills or as two reeds beat.
 */
const REBOUND_DB = 5.5;
const REBOUND_FRAMES = 5;
/** Where the level as a whole rises by less, harmonics are not looked at. */
const LEAST_REBOUND_DB = 3;
/** The drop before it is looked for within 60 ms. */
const DROP_FRAMES = 12;
/** Two attacks of the same reed are at least 40 ms apart. */
const SHORTEST_REPEAT_FRAMES = 8;

/** Finds where a note of nearly the same pitch begins within what sounds like one. */
export class StruckAgain {
  private readonly track: FrameTrack;
  private readonly edges: NoteEdges;

  constructor(track: FrameTrack, edges: NoteEdges) {
    this.track = track;
    this.edges = edges;
  }

  /**
   * Frame of the dip between two attacks of the same reed, if its sound has just come back from one.
   *
   * @param start first frame of the note
   * @param i     newest frame
   */
  reboundAt(start: number, i: number, midi: number): number | null {
    const dip = i - REBOUND_FRAMES;
    if (dip - start < SHORTEST_REPEAT_FRAMES) return null;
    const level = this.track.shortDb;
    let low = dip;
    for (let j = dip - 4; j <= dip + 2; j++) if (level.at(j) < level.at(low)) low = j;
    if (level.at(i) - level.at(low) < LEAST_REBOUND_DB) return null;
    if (this.edges.riseDb(dip, i, midi) < REBOUND_DB) return null;
    let before = low;
    for (let j = Math.max(start, low - DROP_FRAMES); j < low; j++)
      if (level.at(j) > level.at(before)) before = j;
    return this.edges.riseDb(low, before, midi) < REBOUND_DB ? null : low;
  }
}
