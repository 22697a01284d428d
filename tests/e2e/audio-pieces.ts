/**
 * Where the sound of a file lies in a recording of it. On a busy machine the browser puts buffers of silence, 10 ms
 * each, into the sound of its fake device, and leaves others out: every piece between two such slips is the file to
 * the last bit, and lies later or earlier than the one before. Nothing of the program's own listening is used here.
 */
export interface Piece {
  /** Seconds from the start of the file. */
  readonly from: number;
  readonly to: number;
  /** How much later than in the file the sound lies in the recording, in seconds. */
  readonly later: number;
}

const WINDOW = 512;
/** Share of a window's energy in which the recording may differ: positive samples come as 1/32,767 of full, not 1/32,768. */
const SAME = 1e-6;
/** And half a step of 16 bits in every sample, with what lies between the two writings of a step. */
const ROUNDING = WINDOW * (0.6 / 32_768) ** 2;
/** Where rounding is more than a thousandth of the sound, any place would do. */
const QUIET = 1000 * ROUNDING;
/** Several buffers may go missing or come in at once. */
const REACH_SECONDS = 0.25;

/**
 * The pieces of a recording, one sample rate for both.
 *
 * @param guess about how much later the first sound lies, in seconds, to within a quarter
 */
export function piecesOf(
  recording: Float32Array,
  file: Float32Array,
  sampleRateHz: number,
  guess: number,
): readonly Piece[] {
  const reach = Math.round(REACH_SECONDS * sampleRateHz);
  const pieces: Piece[] = [];
  let lag = Math.round(guess * sampleRateHz);
  for (let at = 0; at + WINDOW <= file.length; at += WINDOW) {
    const sound = file.subarray(at, at + WINDOW);
    const energy = sound.reduce((sum, sample) => sum + sample * sample, 0);
    const isAt = (start: number) => isSame(recording, sound, start, SAME * energy + ROUNDING);
    // Silence goes on with a piece, but none can be found by it.
    const silent = energy < QUIET;
    if (silent && pieces.length === 0) continue;
    const found = isAt(at + lag) ? lag : silent ? null : placeOf(isAt, at + lag, reach, at);
    if (found === null) continue;
    lag = found;
    const last = pieces.at(-1);
    const [from, to] = [at / sampleRateHz, (at + WINDOW) / sampleRateHz];
    const later = lag / sampleRateHz;
    // A window torn in between ends a piece even where its sound then goes on in time.
    if (last?.later === later && last.to === from) pieces[pieces.length - 1] = { ...last, to };
    else pieces.push({ from, to, later });
  }
  return pieces;
}

/** The lag at which a window is found near a place; null where a slip tears it. */
function placeOf(isAt: (start: number) => boolean, near: number, reach: number, at: number): number | null {
  for (let off = 0; off <= reach; off++) {
    if (isAt(near + off)) return near + off - at;
    if (isAt(near - off)) return near - off - at;
  }
  return null;
}

/** @param most the energy in which they may differ */
function isSame(recording: Float32Array, sound: Float32Array, start: number, most: number): boolean {
  if (start < 0 || start + sound.length > recording.length) return false;
  let difference = 0;
  for (let i = 0; i < sound.length; i++) {
    difference += ((recording[start + i] ?? 0) - (sound[i] ?? 0)) ** 2;
    if (difference > most) return false;
  }
  return true;
}

/** The slips between pieces, in seconds: sound put in is positive, sound left out negative. */
export function slipsBetween(pieces: readonly Piece[]): readonly number[] {
  return pieces.slice(1).map(({ later }, place) => later - (pieces[place]?.later ?? later));
}

/** How much later the file's sound lies around a moment of it; null where a slip lies within the time given. */
export function laterAround(
  pieces: readonly Piece[],
  from: number,
  to: number,
  sampleRateHz: number,
): number | null {
  // A piece begins and ends on whole windows: the slip itself lies within two of its ends.
  const margin = (2 * WINDOW) / sampleRateHz;
  const whole = pieces.find((piece) => piece.from <= from - margin && piece.to >= to + margin);
  return whole?.later ?? null;
}
