/** What is known of a take because it was made: the ground truth every engine is measured against. */

export const SAMPLE_RATE_HZ = 48_000;
/** Distance of the truth's frames. */
export const HOP_SECONDS = 0.005;

/** A second reed that was made to sound along with a note. */
export interface TrueLeak {
  readonly midi: number;
  /** Cents from that number. */
  readonly cents: number;
  /** Level against the note's own. */
  readonly db: number;
}

/** One note as it was made. */
export interface TrueNote {
  /** First moment of the attack and beginning of the release, seconds from the start of the file. */
  readonly on: number;
  readonly off: number;
  readonly midi: number;
  /** Cents from that number; A4 = 440 Hz. */
  readonly cents: number;
  /** Null: made clean in a take that has leaky notes; absent: a take without any. */
  readonly leak?: TrueLeak | null;
}

export interface Truth {
  readonly name: string;
  /** Takes of one group are measured together. */
  readonly group: string;
  readonly notes: readonly TrueNote[];
  /** Hz every `HOP_SECONDS` from 0; 0 where no note sounds. */
  readonly f0: readonly number[];
  /** As long as `f0`: 1 sounding, 0 silent, -1 in between and not measured. */
  readonly voiced: readonly (1 | 0 | -1)[];
}

export const midiHz = (midi: number) => 440 * 2 ** ((midi - 69) / 12);
export const hzMidi = (hz: number) => 69 + 12 * Math.log2(hz / 440);
/** From `of` to `hz`, sharp positive. */
export const centsBetween = (hz: number, of: number) => 1200 * Math.log2(hz / of);
