import { median } from "./median.ts";
import type { ShortSpectra } from "./short-spectra.ts";

/** How far from the change of pitch the attack is looked for, in frames. */
const ONSET_BACK = 8;
const ONSET_AHEAD = 8;
/** The attack has begun where this share of the rise is reached: low, as reeds may take 40 ms to speak. */
const ONSET_SHARE = 0.05;
/** By half of the rise it has surely begun. */
const HALF = 0.5;
/**
 * The attack begins this share of the time from 5 % to half before 5 %. [calc] A raised cosine is at 5 % after 0.144 of
 * its length and at half after 0.5: 0.144 / 0.356.
 */
const BEFORE_SHARE = 0.404;
/**
 * Time from 5 % to half that the short window alone, 21.3 ms, makes of a sudden attack. [calc] x - sin(2 pi x) / 2 pi
 * is 0.05 at x = 0.202; (0.5 - 0.202) 21.3 ms = 6.4 ms, in frames of 5 ms. Widths of what is smeared add as squares.
 */
const WINDOW_FRAMES = 1.27;
/**
 * [calc] 0.144 of 40 ms, the longest a reed takes to speak, in frames: what rises more slowly swells, and its slowness
 * says nothing of where it began.
 */
const MOST_BEFORE_FRAMES = 1.15;
/** Harmonics whose rise, in decibels, is this share of the greatest show the attack; the old note rings in the others. */
const CLEAR_SHARE = 2 / 3;
/** The change of pitch is seen about 14 ms after the attack began, as the note first has to outgrow the old one. */
const USUAL_DELAY_FRAMES = 2.8;
/** A note has ended where its harmonics have fallen to this share (-16 dB); reeds fall through it within 15 ms. */
const END_SHARE = 0.15;
const HARMONICS = 10;
/** An attack is a rise by 3 dB or more. */
const ATTACK_RATIO = 1.41;
/** A harmonic 30 dB below the strongest counts as silent. */
const SOUNDING_SHARE = 0.03;
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
   * @param near  frame from which on the note's pitch was read
   * @param midis pitch of the note, or of all that begin together
   * @returns frames, fractional
   */
  onset(near: number, ...midis: readonly number[]): number {
    const from = near - ONSET_BACK;
    const strengths = this.clearRise(from, near + ONSET_AHEAD, midis);
    const at = (j: number) => strengths[j] as number;
    let low = 0;
    for (let j = 0; j <= ONSET_BACK; j++) if (at(j) <= at(low)) low = j;
    let high = low;
    for (let j = low; j < strengths.length; j++) if (at(j) > at(high)) high = j;
    const rise = at(high) - at(low);
    if (rise < 0.3 * at(high)) return Math.max(0, near - USUAL_DELAY_FRAMES);
    const early = from + reachedAt(strengths, low, high, at(low) + ONSET_SHARE * rise);
    const half = from + reachedAt(strengths, low, high, at(low) + HALF * rise);
    const slowness = Math.sqrt(Math.max(0, (half - early) ** 2 - WINDOW_FRAMES ** 2));
    return Math.max(0, early - MOST_BEFORE_FRAMES, half - (1 + BEFORE_SHARE) * slowness);
  }

  /** Whether the harmonics of a note rise at all where it seems to begin: what only fades in a room has no attack. */
  hasAttack(near: number, midi: number): boolean {
    const frames = framesBetween(near - ONSET_BACK, near + ONSET_AHEAD);
    return greatestRise(frames.map((i) => this.strength(i, midi))) > ATTACK_RATIO;
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

  /**
   * How much most harmonics of a note have grown from one frame to another: the middle over those that sound at all.
   *
   * @returns decibels; negative where they have faded
   */
  riseDb(from: number, to: number, midi: number): number {
    const [old, now] = [this.spectra.at(from), this.spectra.at(to)];
    const pairs = this.binsOf(midi).map((bin) => ({ before: peakNear(old, bin), since: peakNear(now, bin) }));
    const strongest = Math.max(...pairs.map(({ before, since }) => Math.max(before, since)));
    const sounding = pairs.filter(
      ({ before, since }) => Math.max(before, since) >= SOUNDING_SHARE * strongest,
    );
    return (
      20 *
      median(sounding.map(({ before, since }) => Math.log10(Math.max(1e-9, since) / Math.max(1e-9, before))))
    );
  }

  /** Strength in each frame of those harmonics that rise most. */
  private clearRise(from: number, to: number, midis: readonly number[]): readonly number[] {
    const frames = framesBetween(from, to);
    const bins = midis.flatMap((midi) => this.binsOf(midi));
    const harmonics = bins.map((bin) => {
      const curve = frames.map((i) => peakNear(this.spectra.at(i), bin));
      return { curve, rise: Math.log(greatestRise(curve)) };
    });
    const best = Math.max(...harmonics.map(({ rise }) => rise));
    const clear = harmonics.filter(({ rise }) => rise >= CLEAR_SHARE * best);
    return frames.map((_, j) => clear.reduce((sum, { curve }) => sum + (curve[j] as number), 0));
  }

  /** Where the harmonics of a note lie in a short spectrum, fractional. */
  private binsOf(midi: number): readonly number[] {
    const spacing = 440 * 2 ** ((midi - 69) / 12) * this.binsPerHz;
    const { bins } = this.spectra;
    const found: number[] = [];
    for (let k = 1; k <= HARMONICS && k * spacing < bins - 2; k++) found.push(k * spacing);
    return found;
  }

  /** @param except multiples of this number are left out; 0 for none */
  private strength(frame: number, midi: number, except = 0): number {
    const spectrum = this.spectra.at(frame);
    const spacing = 440 * 2 ** ((midi - 69) / 12) * this.binsPerHz;
    let sum = 0;
    for (let k = 1; k <= HARMONICS && k * spacing < spectrum.length - 2; k++) {
      if (except > 0 && k % except === 0) continue;
      sum += peakNear(spectrum, k * spacing);
    }
    return sum;
  }
}

/** Where a curve last rises through a height before it stays above until `high`; fractional. */
function reachedAt(curve: readonly number[], low: number, high: number, height: number): number {
  let j = high;
  while (j > low && (curve[j] as number) > height) j--;
  const [a, b] = [curve[j] as number, curve[Math.min(j + 1, high)] as number];
  return j + (height - a) / Math.max(1e-9, b - a);
}

/** The most by which a curve rises above what it had fallen to; 1 where it only falls. */
function greatestRise(curve: readonly number[]): number {
  let low = Number.POSITIVE_INFINITY;
  let most = 1;
  for (const value of curve) {
    low = Math.min(low, value);
    most = Math.max(most, value / Math.max(1e-9, low));
  }
  return most;
}

function peakNear(spectrum: Float32Array, at: number): number {
  const bin = Math.round(at);
  return Math.max(spectrum[bin] as number, spectrum[bin + 1] as number, spectrum[bin - 1] as number);
}
