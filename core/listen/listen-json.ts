import type { Listening } from "./listening.ts";

/** What the headless command prints for a take; units in the comments, as JSON cannot carry them. */
export interface ListenJson {
  readonly frames: readonly {
    /** Seconds to the centre of the window. */
    readonly t: number;
    /** Hz; negative: an estimate in a frame judged unvoiced; 0: no estimate. */
    readonly f0: number;
    /** 0..1. */
    readonly clarity: number;
  }[];
  readonly notes: readonly {
    /** Seconds. */
    readonly on: number;
    readonly off: number;
    /** Nearest whole MIDI number; 0: heard, but without a readable pitch. */
    readonly midi: number;
    /** Cents from that number, -50..50; A4 = 440 Hz. */
    readonly cents: number;
    /** The second reed heard along with it: nearest whole MIDI number, and its level against the note in dB. */
    readonly leak: { readonly midi: number; readonly db: number } | null;
  }[];
  readonly latencyMs: number;
}

/** Rounded to what a reader can use: microseconds, 10^-5 Hz, 10^-4 cent. */
export function toListenJson(listening: Listening): ListenJson {
  return {
    frames: listening.frames.map(({ atSeconds, pitchHz, voiced, clarity }) => ({
      t: rounded(atSeconds, 1e6),
      f0: pitchHz === null ? 0 : rounded(voiced ? pitchHz : -pitchHz, 1e5),
      clarity: rounded(clarity, 1e4),
    })),
    notes: listening.notes.map(({ onSeconds, offSeconds, pitchMidi, leak }) => {
      const midi = pitchMidi === null ? 0 : Math.round(pitchMidi);
      return {
        on: rounded(onSeconds, 1e6),
        off: rounded(offSeconds, 1e6),
        midi,
        cents: pitchMidi === null ? 0 : rounded(100 * (pitchMidi - midi), 1e4),
        leak: leak && { midi: Math.round(leak.pitchMidi), db: rounded(leak.levelDb, 1e2) },
      };
    }),
    latencyMs: rounded(listening.latencySeconds * 1000, 1e3),
  };
}

const rounded = (value: number, per: number) => Math.round(value * per) / per;
