import { quantile } from "../../core/listen/median.ts";
import type { LiveReading } from "../audio/microphone.ts";

/** What the microphone heard over the last seconds. */
export interface Levels {
  /** Of the newest reading; null before there is one. */
  readonly nowDbfs: number | null;
  /** The loudest a reed was lately; null while none sounded. */
  readonly noteDbfs: number | null;
  /** What there was when no reed sounded last; null until there was a second of that. */
  readonly noiseDbfs: number | null;
  /** True while a sample reached full scale within the last seconds. */
  readonly clipped: boolean;
  /** True after a second of exact zeros. */
  readonly silent: boolean;
}

export const NO_LEVELS: Levels = {
  nowDbfs: null,
  noteDbfs: null,
  noiseDbfs: null,
  clipped: false,
  silent: false,
};

/** So far back a note counts: long enough to lower the harp and read. */
const NOTE_SECONDS = 10;
const NOISE_SECONDS = 6;
const CLIPPED_SECONDS = 3;
/** Readings come some 30 times a second: about a second of them. */
const LEAST_NOISE_READINGS = 25;
/** The way into and out of a note is no noise: the quieter half's middle is taken. */
const NOISE_SHARE = 0.25;

/** Follows the readings of an open microphone. */
export class LevelFollower {
  private readings: LiveReading[] = [];
  private noiseDbfs: number | null = null;

  take(reading: LiveReading): void {
    const oldest = reading.atSeconds - NOTE_SECONDS;
    this.readings = [...this.readings.filter(({ atSeconds }) => atSeconds >= oldest), reading];
  }

  levels(): Levels {
    const last = this.readings.at(-1);
    if (last === undefined) return NO_LEVELS;
    const within = (seconds: number) =>
      this.readings.filter(({ atSeconds }) => atSeconds >= last.atSeconds - seconds);
    const notes = this.readings.filter(({ pitchMidi }) => pitchMidi !== null);
    const between = within(NOISE_SECONDS).filter(
      ({ pitchMidi, levelDbfs }) => pitchMidi === null && Number.isFinite(levelDbfs),
    );
    const levelsBetween = between.map(({ levelDbfs }) => levelDbfs);
    if (between.length >= LEAST_NOISE_READINGS) this.noiseDbfs = quantile(levelsBetween, NOISE_SHARE);
    return {
      nowDbfs: last.levelDbfs,
      noteDbfs: notes.length === 0 ? null : Math.max(...notes.map(({ levelDbfs }) => levelDbfs)),
      noiseDbfs: this.noiseDbfs,
      clipped: within(CLIPPED_SECONDS).some(({ clipped }) => clipped),
      silent: last.silent,
    };
  }
}
