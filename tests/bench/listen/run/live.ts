import { Listener } from "../../../../core/listen/listener.ts";
import { hzMidi, type Truth } from "../corpus/truth.ts";
import { readSound } from "../corpus/wav-file.ts";

/** An audio worklet hands over so many samples at a time. */
export const CHUNK_SAMPLES = 128;
/** Half the distance between two notes. */
const RIGHT_SEMITONES = 0.5;
/** A right pitch must stay right so long to be known. */
const STAYS_SECONDS = 0.01;

/**
 * Milliseconds from each true onset until the streaming listener's live pitch is within 50 cents and stays so for 10 ms more,
 * counted in samples handed over; infinite for a note that is over before. Of a note sounded again the pitch is known
 * only from frames whose centre lies after its onset.
 */
export function liveDelays(wav: string, truth: Truth): number[] {
  const { samples, sampleRateHz } = readSound(wav);
  const listener = new Listener(sampleRateHz);
  const delays = truth.notes.map(() => Number.POSITIVE_INFINITY);
  let note = 0;
  let rightFrom: number | null = null;
  for (let at = 0; at < samples.length && note < truth.notes.length; at += CHUNK_SAMPLES) {
    listener.push(samples.subarray(at, at + CHUNK_SAMPLES));
    const now = (at + CHUNK_SAMPLES) / sampleRateHz;
    const current = truth.notes[note];
    if (current === undefined) break;
    if (now <= current.on) continue;
    if (delays[note] === Number.POSITIVE_INFINITY) {
      rightFrom = isRight(listener, current) ? (rightFrom ?? now) : null;
      if (rightFrom !== null && now - rightFrom >= STAYS_SECONDS)
        delays[note] = 1000 * (rightFrom - current.on);
    }
    const following = truth.notes[note + 1];
    if (now > (following?.on ?? current.off)) {
      note++;
      rightFrom = null;
    }
  }
  return delays;
}

function isRight({ liveFrame }: Listener, { on, midi, cents }: Truth["notes"][number]): boolean {
  if (liveFrame === null || !liveFrame.voiced || liveFrame.pitchHz === null) return false;
  const off = hzMidi(liveFrame.pitchHz) - midi - cents / 100;
  return liveFrame.atSeconds >= on && Math.abs(off) <= RIGHT_SEMITONES;
}
