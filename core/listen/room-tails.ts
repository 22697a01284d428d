import { median } from "./median.ts";
import type { NoteSpectrum } from "./note-spectrum.ts";

/** A sound that may still ring in the room. */
interface Ended {
  readonly hz: number;
  /** Squared amplitudes of its harmonics 1, 2, 3 ... */
  readonly powers: Float64Array;
  readonly offSeconds: number;
}

/** How much of a note was left in the room, this long after it. */
interface Tail {
  readonly lagSeconds: number;
  readonly share: number;
}

const TAILS_KEPT = 24;
const FEWEST_TAILS = 5;
/** Tails this much sooner or later tell about one another. */
const ALIKE_SECONDS = 0.03;
/** After that nothing is expected any more. */
const LONGEST_SECONDS = 1.5;
/** A tail varies from line to line; this is about the mean where half the tails lie below 1. */
const MEAN_OF_MEDIAN = 1.5;
/** Before the room is known: 12 dB below the note at its end, falling by 70 dB in a second, as a kitchen's does. */
const UNKNOWN_SHARE = 0.06;
const UNKNOWN_FALL = 7;
/** A tail is a line as wide as the window's, give or take. */
const TAIL_TURNS = 2;
const FEWEST_LINES = 2;

/** What earlier notes leave in the room, learned from note to note: it looks like a second reed, and is none. */
export class RoomTails {
  private ended: Ended[] = [];
  private readonly tails: Tail[] = [];

  /** Compares the last note with what is left of it now. */
  learn(spectrum: NoteSpectrum, noise: Float64Array, atSeconds: number): void {
    const last = this.ended.at(-1);
    if (last === undefined) return;
    let seen = 0;
    let own = 0;
    let lines = 0;
    last.powers.forEach((power, m) => {
      const j = Math.round(((m + 1) * last.hz) / spectrum.binHz);
      if (j > spectrum.bins || spectrum.clear[j] === 0) return;
      seen += Math.max(0, (spectrum.left[j] as number) - (noise[j] as number));
      own += power;
      lines++;
    });
    if (lines < FEWEST_LINES || own <= 0) return;
    this.tails.push({ lagSeconds: atSeconds - last.offSeconds, share: seen / own });
    if (this.tails.length > TAILS_KEPT) this.tails.shift();
  }

  /** Share of a note's power that is expected to be left a time after its end. */
  shareAfter(lagSeconds: number): number {
    if (lagSeconds > LONGEST_SECONDS) return 0;
    const alike = this.tails.filter((tail) => Math.abs(tail.lagSeconds - lagSeconds) < ALIKE_SECONDS);
    // What is left later is less: sooner tails are on the safe side.
    const known =
      alike.length >= FEWEST_TAILS
        ? alike
        : this.tails.filter((tail) => tail.lagSeconds <= lagSeconds + ALIKE_SECONDS);
    if (known.length < FEWEST_TAILS) return UNKNOWN_SHARE * 10 ** (-UNKNOWN_FALL * lagSeconds);
    return MEAN_OF_MEDIAN * median(known.map((tail) => tail.share));
  }

  /** Adds the expected tails to the noise. */
  add(spectrum: NoteSpectrum, noise: Float64Array, atSeconds: number): void {
    const { binHz, binsPerTurn, bins } = spectrum;
    const reach = TAIL_TURNS * binsPerTurn;
    for (const { hz, powers, offSeconds } of this.ended) {
      const share = this.shareAfter(atSeconds - offSeconds);
      if (share <= 0) continue;
      for (let m = 0; m < powers.length; m++) {
        const at = ((m + 1) * hz) / binHz;
        const end = Math.min(bins, Math.floor(at + reach));
        for (let j = Math.max(0, Math.ceil(at - reach)); j <= end; j++) {
          const root = Math.cos((Math.PI * (j - at)) / (2 * reach));
          const shape = root * root;
          noise[j] = (noise[j] as number) + share * shape * shape * (powers[m] as number);
        }
      }
    }
  }

  /** A sound has ended; the note itself after a second reed that sounded with it. */
  remember(hz: number, powers: Float64Array, offSeconds: number): void {
    this.ended = this.ended.filter((old) => offSeconds - old.offSeconds < LONGEST_SECONDS / 2);
    this.ended.push({ hz, powers, offSeconds });
  }
}
