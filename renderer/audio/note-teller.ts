import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { Listener } from "../../core/listen/listen-to-take.ts";
import type { HeardNote } from "../../core/listen/listening.ts";
import type { TapBlock } from "./tap-messages.ts";

/** A note that has ended, and when that was told: seconds since the telling began. */
export interface ToldNote {
  readonly note: HeardNote;
  readonly nowSeconds: number;
}

/** So long after its end nothing can join a note any more: fragments of one note touch within 20 ms. */
const FINAL_SECONDS = 0.12;

/** Tells notes one by one as they end, for as long as wanted: of the sound nothing is kept. */
export class NoteTeller {
  private readonly ear: Listener;
  private told = 0;
  private nextFrame: number | null = null;

  /**
   * @param known reeds of the instrument in hand
   * @throws RangeError for a sample rate that cannot be listened to
   */
  constructor(
    private readonly sampleRateHz: number,
    known: KnownReeds,
  ) {
    this.ear = new Listener(sampleRateHz, "notes", known);
  }

  /** @returns the notes that have ended by now and were not told yet */
  take({ frame, samples }: TapBlock): readonly ToldNote[] {
    const missing = this.nextFrame === null ? 0 : frame - this.nextFrame;
    // Samples that never came are silence, so that times stay true.
    if (missing > 0) this.ear.push(new Float32Array(Math.min(missing, 10 * this.sampleRateHz)));
    this.nextFrame = frame + samples.length;
    this.ear.push(samples);
    return this.fresh();
  }

  private fresh(): readonly ToldNote[] {
    const { ear } = this;
    const nowSeconds = ear.liveFrame?.atSeconds ?? 0;
    const found: ToldNote[] = [];
    for (let note = ear.endedNote(this.told); note !== null; note = ear.endedNote(this.told)) {
      const isLast = this.told + 1 >= ear.endedNotes;
      if (isLast && nowSeconds - note.offSeconds < FINAL_SECONDS) break;
      this.told += 1;
      found.push({ note, nowSeconds });
    }
    return found;
  }
}
