import { measureNoise } from "./line-noise.ts";
import { NoteSpectrum } from "./note-spectrum.ts";
import { RoomTails } from "./room-tails.ts";
import { ANYWHERE, type SecondReed, type Stretch, strongestReed } from "./second-reed.ts";

/** Log-likelihood ratio from which a second reed is reported: in a dry room, and in one that rings on. */
const EVIDENCE = 9;
const EVIDENCE_IN_ECHO = 13;
/** A reed sounds this near to where it is tuned to, in semitones, at most. */
const REED_SEMITONES = 0.5;
/** A reed nearer to the note than this, or to an octave of it, cannot be told from it. */
const TOO_NEAR = 0.8;
/** A room rings on where this share of a note is left ... */
const ECHO_SHARE = 0.003;
/** ... this long after it. */
const ECHO_SECONDS = 0.1;
/** A longer stretch of a note tells a reed from an echo well enough. */
const LONG_SECONDS = 0.1;
/** Softer than this against the note nobody hears it, and wavering of the note may look like it. */
const SOFTEST_DB = -25;

/** Finds a second reed that sounds along with a note, the air of a neighbouring hole, and how loud it is. */
export class LeakFinder {
  private readonly spectrum = new NoteSpectrum();
  private readonly noise = new Float64Array(this.spectrum.left.length);
  private readonly tails = new RoomTails();

  /**
   * Notes have to come in order, as each leaves a tail to the next.
   *
   * @param samples       of the settled part of the note; of more than `NoteSpectrum.longest` only the last are used
   * @param rateHz        their sample rate
   * @param noteHz        pitch of the note, good to a cent
   * @param endSeconds    when `samples` end
   * @param offSeconds    when the note ends
   * @param beside        semitones from the note to the reeds that may sound along; null where they are not known
   * @returns the strongest other reed, up to a fifth away or one of those that may sound along, or null
   */
  find(
    samples: Float64Array,
    rateHz: number,
    noteHz: number,
    endSeconds: number,
    offSeconds: number,
    beside: readonly number[] | null,
  ): SecondReed | null {
    const { spectrum, noise, tails } = this;
    const part = samples.subarray(Math.max(0, samples.length - NoteSpectrum.longest));
    const middle = endSeconds - part.length / 2 / rateHz;
    spectrum.measure(part, rateHz, noteHz);
    measureNoise(spectrum, noise);
    tails.learn(spectrum, noise, middle);
    tails.add(spectrum, noise, middle);
    const where = beside === null ? ANYWHERE : stretchesAround(beside);
    const reed = strongestReed(spectrum, noise, where);
    const inEcho = part.length < LONG_SECONDS * rateHz && tails.shareAfter(ECHO_SECONDS) > ECHO_SHARE;
    // In an echo chance is not what misleads: the note before was likely one of the reeds beside this one.
    const enough = inEcho ? EVIDENCE_IN_ECHO : EVIDENCE - knownGain(where);
    const found =
      reed !== null && reed.evidence > enough && Math.min(reed.levelDb, reed.likelyDb) > SOFTEST_DB
        ? reed
        : null;
    if (found !== null) {
      tails.remember(
        found.hz,
        spectrum.powers.map((power) => power * 10 ** (found.levelDb / 10)),
        offSeconds,
      );
    }
    tails.remember(noteHz, spectrum.powers, offSeconds);
    return found;
  }
}

/**
 * Where it is known which reeds may sound along, fewer pitches are tried and chance has fewer tries; as many times fewer
 * as the stretches looked at are shorter.
 *
 * @returns natural log of that, 0 or more
 */
function knownGain(where: readonly Stretch[]): number {
  const width = (stretches: readonly Stretch[]) =>
    stretches.reduce((sum, [low, high]) => sum + high - low, 0);
  return where.length === 0 ? 0 : Math.max(0, Math.log(width(ANYWHERE) / width(where)));
}

function stretchesAround(beside: readonly number[]): readonly Stretch[] {
  const apart = beside.filter(
    (semitones) => Math.abs(semitones - 12 * Math.round(semitones / 12)) > TOO_NEAR,
  );
  return apart.map((semitones) => [semitones - REED_SEMITONES, semitones + REED_SEMITONES]);
}
