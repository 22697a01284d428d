import { areJoined, hurry, secondsFor } from "./cost.ts";
import type { Line } from "./line.ts";
import type { Weights } from "./weights.ts";

/** How often each pitch of a line comes and which follow which: what it asks of a harp, whatever the harp. */
export interface LineSummary {
  readonly notes: number;
  /** Different pitches as MIDI numbers, lowest first. */
  readonly pitches: Int16Array;
  /** By pitch: notes, and the sum of how many times an effort counts in them. */
  readonly counts: Int32Array;
  readonly hurries: Float64Array;
  /** All moves from one pitch to another, staying left out: typed rows, as hundreds of harps read them for every tune. */
  readonly steps: {
    /** MIDI numbers. */
    readonly from: Int16Array;
    readonly to: Int16Array;
    /** Sum of how many times the effort counts. */
    readonly hurry: Float64Array;
    /** How many of them are joined, so that tones are compared. */
    readonly joined: Int32Array;
  };
}

export function summaryOf(line: Line, weights: Weights): LineSummary {
  const pitches = [...new Set(line.map((note) => Number(note.midi)))].sort((one, other) => one - other);
  const places = new Map(pitches.map((pitch, place) => [pitch, place]));
  const counts = new Int32Array(pitches.length);
  const hurries = new Float64Array(pitches.length);
  const steps = new Map<number, { from: number; to: number; hurry: number; joined: number }>();
  for (const [index, note] of line.entries()) {
    const next = line[index + 1];
    const place = places.get(note.midi) ?? 0;
    const times = hurry(secondsFor(note, next ?? null), weights);
    counts[place] = (counts[place] ?? 0) + 1;
    hurries[place] = (hurries[place] ?? 0) + times;
    // Staying costs nothing on one reed, so it bounds nothing.
    if (next === undefined || next.midi === note.midi) continue;
    const key = place * pitches.length + (places.get(next.midi) ?? 0);
    const step = steps.get(key) ?? { from: note.midi, to: next.midi, hurry: 0, joined: 0 };
    step.hurry += times;
    step.joined += areJoined(note, next, weights) ? 1 : 0;
    steps.set(key, step);
  }
  const rows = [...steps.values()];
  return {
    notes: line.length,
    pitches: Int16Array.from(pitches),
    counts,
    hurries,
    steps: {
      from: Int16Array.from(rows, (row) => row.from),
      to: Int16Array.from(rows, (row) => row.to),
      hurry: Float64Array.from(rows, (row) => row.hurry),
      joined: Int32Array.from(rows, (row) => row.joined),
    },
  };
}
