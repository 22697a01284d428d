/** A note is read at one of these harmonics where a room or a microphone has made its others faint. */
const READ_AS = [2, 3] as const;
/** Harmonics of the lower note that are looked at. */
const HARMONICS_CHECKED = 8;
/** A harmonic stands out from between the harmonics by 10 dB; most have to. */
const STANDS_OUT = 10;
const MOST = 0.6;
/** Together the others of a reed hold at least this share of the power (-25 dB). */
const LEAST_SHARE = 0.003;
/** What a room still holds of an earlier note falls faster than this: 60 dB in 1.5 s. */
const STEADY_DB_PER_SECOND = 40;
/** The early and the late part of a note, shares of it. */
const PART_SHARE = 0.6;
/** In less between its parts a room that rings for 0.4 s fades by less than the parts waver. */
const LEAST_APART_SECONDS = 0.024;
/** No more of a note is looked at. */
const LONGEST_SECONDS = 0.3;
/** Two sines are told apart from this many turns between them in a Hann window. */
const TURNS_APART = 2;

/**
 * Which harmonic of a lower note a pitch was read at. The other harmonics of that note are there and hold on as the note
 * does; those of a lower note that has ended, and only rings in the room, fade.
 *
 * @param samples   the settled part of the note
 * @param hz        the pitch as read
 * @param lowestHz  no note is lower
 * @returns 2 or 3; 1 for the pitch itself
 */
export function harmonicReadAt(samples: Float64Array, rateHz: number, hz: number, lowestHz: number): number {
  const held = samples.subarray(Math.max(0, samples.length - Math.round(LONGEST_SECONDS * rateHz)));
  const size = Math.floor(PART_SHARE * held.length);
  const late = windowed(held.subarray(held.length - size));
  const apartSeconds = (held.length - size) / rateHz;
  if (apartSeconds < LEAST_APART_SECONDS) return 1;
  for (const number of READ_AS) {
    const spacing = hz / number;
    if (spacing < lowestHz || (spacing / 2) * (size / rateHz) < TURNS_APART) continue;
    const now = linesOf(late, rateHz, spacing, number);
    if (now.standingOut < MOST || now.others < LEAST_SHARE * now.own) continue;
    const then = linesOf(windowed(held.subarray(0, size)), rateHz, spacing, number);
    const faded = 10 * Math.log10((then.others / now.others) * (now.own / then.own));
    if (faded < STEADY_DB_PER_SECOND * apartSeconds) return number;
  }
  return 1;
}

/** Powers of the harmonics that belong to a pitch read at a harmonic of a lower note, and of that note's others. */
interface Lines {
  readonly own: number;
  readonly others: number;
  /** Share of the others that stand out. */
  readonly standingOut: number;
}

function linesOf(samples: Float64Array, rateHz: number, spacing: number, number: number): Lines {
  let own = 0;
  let others = 0;
  let standing = 0;
  let count = 0;
  for (let k = 1; k <= HARMONICS_CHECKED && (k + 1) * spacing < rateHz / 2; k++) {
    const power = powerAt(samples, (k * spacing) / rateHz);
    if (k % number === 0) {
      own += power;
      continue;
    }
    const between = Math.max(
      powerAt(samples, ((k - 0.5) * spacing) / rateHz),
      powerAt(samples, ((k + 0.5) * spacing) / rateHz),
    );
    others += power;
    count++;
    if (power > STANDS_OUT * between) standing++;
  }
  return { own, others, standingOut: count === 0 ? 0 : standing / count };
}

/** Samples under a Hann window. */
function windowed(samples: Float64Array): Float64Array {
  const hann = (2 * Math.PI) / samples.length;
  const [hannCos, hannSin] = [Math.cos(hann), Math.sin(hann)];
  // The window turns along: a cosine for each sample took half the time of all listening.
  let [c, s] = [Math.cos(hann / 2), Math.sin(hann / 2)];
  const out = new Float64Array(samples.length);
  for (let i = 0; i < samples.length; i++) {
    out[i] = (samples[i] as number) * (0.5 - 0.5 * c);
    const turned = c * hannCos - s * hannSin;
    s = c * hannSin + s * hannCos;
    c = turned;
  }
  return out;
}

/** Power of the spectrum at one frequency, in turns a sample: Goertzel's recurrence (Oppenheim and Schafer, section 9.1.2). */
function powerAt(samples: Float64Array, frequency: number): number {
  const twice = 2 * Math.cos(2 * Math.PI * frequency);
  let [last, before] = [0, 0];
  for (let i = 0; i < samples.length; i++) {
    const next = (samples[i] as number) + twice * last - before;
    before = last;
    last = next;
  }
  return last * last + before * before - twice * last * before;
}
