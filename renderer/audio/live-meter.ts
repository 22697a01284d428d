import type { BlockReading } from "./take-recorder.ts";
import type { ReadingReport, TapBlock } from "./tap-messages.ts";

/** Readings reach the screen this often at most, but for news. */
const READING_SECONDS = 1 / 30;
/** Another note: it does not wait for its turn. */
const NEWS_SEMITONES = 0.5;
/** A microphone that the system keeps shut gives exact zeros; a real one never does for this long. */
const SILENT_SECONDS = 1;
/** A sample counts as clipped from here: the largest 16-bit value, as the listening engine has it. */
const FULL_SCALE = 32767 / 32768;

/**
 * Thins readings out for the screen without losing a clipped sample, and notices a microphone that is shut. A note that
 * begins, changes or ends, and the first clipped sample, are shown at once.
 */
export class LiveMeter {
  private lastReadingFrame: number | null = null;
  private lastSoundFrame: number | null = null;
  private clipped = false;
  private last: ReadingReport | null = null;

  constructor(private readonly sampleRateHz: number) {}

  /** @returns what is to be shown, or null if it is too early for that */
  take(block: TapBlock, reading: BlockReading): ReadingReport | null {
    this.clipped ||= block.samples.some((sample) => Math.abs(sample) >= FULL_SCALE);
    if (this.lastSoundFrame === null || block.samples.some((sample) => sample !== 0))
      this.lastSoundFrame = block.frame;
    const at = this.lastReadingFrame;
    const isEarly = at !== null && block.frame - at < READING_SECONDS * this.sampleRateHz;
    if (isEarly && !this.isNews(reading.pitchMidi)) return null;
    this.lastReadingFrame = block.frame;
    const silent = block.frame - this.lastSoundFrame > SILENT_SECONDS * this.sampleRateHz;
    const { clipped } = this;
    this.clipped = false;
    this.last = { kind: "reading", ...reading, clipped, silent };
    return this.last;
  }

  private isNews(pitchMidi: number | null): boolean {
    const { last } = this;
    if (last === null || (this.clipped && !last.clipped)) return true;
    if (pitchMidi === null || last.pitchMidi === null) return pitchMidi !== last.pitchMidi;
    return Math.abs(pitchMidi - last.pitchMidi) >= NEWS_SEMITONES;
  }
}
