import type { BlockReading } from "./take-recorder.ts";
import type { ReadingReport, TapBlock } from "./tap-messages.ts";

/** Readings reach the screen this often at most. */
const READING_SECONDS = 1 / 30;
/** A microphone that the system keeps shut gives exact zeros; a real one never does for this long. */
const SILENT_SECONDS = 1;
/** A sample counts as clipped from here: the largest 16-bit value, as the listening engine has it. */
const FULL_SCALE = 32767 / 32768;

/** Thins readings out for the screen without losing a clipped sample, and notices a microphone that is shut. */
export class LiveMeter {
  private lastReadingFrame: number | null = null;
  private lastSoundFrame: number | null = null;
  private clipped = false;

  constructor(private readonly sampleRateHz: number) {}

  /** @returns what is to be shown, or null if it is too early for that */
  take(block: TapBlock, reading: BlockReading): ReadingReport | null {
    this.clipped ||= block.samples.some((sample) => Math.abs(sample) >= FULL_SCALE);
    if (this.lastSoundFrame === null || block.samples.some((sample) => sample !== 0))
      this.lastSoundFrame = block.frame;
    const last = this.lastReadingFrame;
    if (last !== null && block.frame - last < READING_SECONDS * this.sampleRateHz) return null;
    this.lastReadingFrame = block.frame;
    const silent = block.frame - this.lastSoundFrame > SILENT_SECONDS * this.sampleRateHz;
    const { clipped } = this;
    this.clipped = false;
    return { kind: "reading", ...reading, clipped, silent };
  }
}
