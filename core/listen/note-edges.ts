import { median } from "./median.ts";
import type { ShortSpectra } from "./short-spectra.ts";

/** How far from the change of pitch the attack is looked for, in frames. */
const ONSET_BACK = 8;
const ONSET_AHEAD = 8;
/** The attack has begun where this share of the rise is reached: low, as reeds may take 40 ms to speak. */
const ONSET_SHARE = 0.05;
/**
 * The attack begins this many frames, 4 ms, before that share: [calc] a raised cosine reaches 5 % of its height after
 * 0.144 of its length, and reeds take 15 to 40 ms to speak.
 */
const BEFORE_SHARE_FRAMES = 0.8;
/** The change of pitch is seen about 10 ms after the attack began, as the note first has to outgrow the old one. */
const USUAL_DELAY_FRAMES = 2;
/** A note has ended where its harmonics have fallen to this share (-16 dB); reeds fall through it within 15 ms. */
const END_SHARE = 0.15;
const HARMONICS = 10;
/** Frames of the past that the strength of a note is judged by. */
const REFERENCE_FRAMES = 40;

/** A note that stopped has fallen below this share, 40 ms later, even in a room that rings on. */
const SOUNDS_ON_SHARE = 0.75;
const LEAST_SPACING_BINS = 6;
/** Frames before a doubtful stretch that it is compared with. */
const BEFORE_FRAMES = 8;

const framesBetween = (from: number, to: number) =>
  Array.from({ length: Math.max(1, to - from + 1) }, (_, i) => from + i);

/** Finds where notes begin and end, from the strength of their own harmonics in the short spectra. */
export class NoteEdges {
  /** Frames after a change of pitch that `onset` looks at. */
  static readonly ahead = ONSET_AHEAD;

  private readonly spectra: ShortSpectra;
  private readonly binsPerHz: number;

  constructor(spectra: ShortSpectra, binsPerHz: number) {
    this.spectra = spectra;
    this.binsPerHz = binsPerHz;
  }

  /**
   * First moment of the attack. Looked for close to the frame where the pitch changed, as only that is sure to belong
   * to this note.
   *
   * @param near frame from which on the note's pitch was read
   * @returns frames, fractional
   */
  onset(near: number, midi: number): number {
    const from = near - ONSET_BACK;
    const strengths: number[] = [];
    for (let i = from; i <= near + ONSET_AHEAD; i++) strengths.push(this.strength(i, midi));
    const at = (j: number) => strengths[j] as number;
    let low = 0;
    for (let j = 0; j <= ONSET_BACK; j++) if (at(j) <= at(low)) low = j;
    let high = low;
    for (let j = low; j < strengths.length; j++) if (at(j) > at(high)) high = j;
    const rise = at(high) - at(low);
    if (rise < 0.3 * at(high)) return Math.max(0, near - USUAL_DELAY_FRAMES - BEFORE_SHARE_FRAMES);
    let j = low;
    while (j < high && at(j + 1) < at(low) + 0.5 * rise) j++;
    const mark = at(low) + ONSET_SHARE * rise;
    while (j > low && at(j) > mark) j--;
    const reached = from + j + (mark - at(j)) / Math.max(1e-9, at(j + 1) - at(j));
    return Math.max(0, reached - BEFORE_SHARE_FRAMES);
  }

  /**
   * End of sounding: the last frame, no later than `end`, in which the note still holds a share of its strength.
   *
   * @param start first frame of the note
   * @param end   frame by which the note was over
   */
  end(start: number, end: number, midi: number): number {
    const strengths: number[] = [];
    for (let i = Math.max(start, end - REFERENCE_FRAMES); i < end; i++)
      strengths.push(this.strength(i, midi));
    if (strengths.length === 0) return end;
    const mark =
      END_SHARE * median(strengths.toSorted((a, b) => b - a).slice(0, Math.ceil(strengths.length / 2)));
    let last = end - 1;
    while (last > start && this.strength(last, midi) < mark) last--;
    return last + 1;
  }

  /**
   * Whether a note still sounds though a harmonic of it has grown so strong, by a room or a beat, that it is read as a
   * note of its own: then the harmonics that do not belong to that one are as strong as before.
   *
   * @param midi     the note
   * @param multiple which of its harmonics is read, 2 or more
   * @param from     first frame in which that was read
   * @param to       last frame looked at
   */
  soundsOn(midi: number, multiple: number, from: number, to: number): boolean {
    const spacing = 440 * 2 ** ((midi - 69) / 12) * this.binsPerHz;
    // Closer harmonics run into each other in so short a spectrum.
    if (spacing < LEAST_SPACING_BINS) return false;
    const others = (i: number) => this.strength(i, midi, multiple);
    const before = median(framesBetween(from - BEFORE_FRAMES, from - 2).map(others));
    const since = median(framesBetween(from + 2, to).map(others));
    return since > SOUNDS_ON_SHARE * before;
  }

  /** @param except multiples of this number are left out; 0 for none */
  private strength(frame: number, midi: number, except = 0): number {
    const spectrum = this.spectra.at(frame);
    const spacing = 440 * 2 ** ((midi - 69) / 12) * this.binsPerHz;
    let sum = 0;
    for (let k = 1; k <= HARMONICS && k * spacing < spectrum.length - 2; k++) {
      if (except > 0 && k % except === 0) continue;
      const bin = Math.round(k * spacing);
      sum += Math.max(spectrum[bin] as number, spectrum[bin + 1] as number, spectrum[bin - 1] as number);
    }
    return sum;
  }
}
