import { burstsOf } from "../../../core/delay/bursts.ts";
import { convolved } from "../../bench/listen/corpus/convolve.ts";
import { noise } from "../listen/signals.ts";

/** A sound that comes back later, through a room, under noise. */
export interface Way {
  readonly delaySeconds: number;
  /** Strength of the direct sound, 1 = as played. */
  readonly strength: number;
  /** Time in which the room's answer falls by 60 dB; 0 for none. */
  readonly roomSeconds?: number;
  /** Energy of the room's answer against the direct sound, in decibels. */
  readonly roomDb?: number;
  readonly noiseRms?: number;
  readonly seed?: number;
}

/**
 * What a microphone would record of a sound. The room's answer is noise that dies away exponentially (Moorer 1979), from
 * 2 ms behind the direct sound on.
 *
 * @param recordedSamples length of the recording, which begins with the sound's first sample
 */
export function record(sound: Float32Array, sampleRateHz: number, way: Way, recordedSamples: number) {
  const { delaySeconds, strength, roomSeconds = 0, roomDb = 0, noiseRms = 0, seed = 1 } = way;
  const recording = noiseRms > 0 ? noise(recordedSamples, noiseRms, seed) : new Float32Array(recordedSamples);
  const later = Math.round(delaySeconds * sampleRateHz);
  addLater(recording, sound, later, strength);
  if (roomSeconds === 0) return recording;
  const answer = Float64Array.from(noise(Math.round(roomSeconds * sampleRateHz), 1, seed + 1000));
  for (let n = 0; n < answer.length; n++)
    answer[n] = n < 0.002 * sampleRateHz ? 0 : (answer[n] ?? 0) * 10 ** ((-3 * n) / answer.length);
  const energy = answer.reduce((sum, value) => sum + value ** 2, 0);
  const gain = strength * Math.sqrt(10 ** (roomDb / 10) / energy);
  // Burst by burst: the quiet between them needs no convolution.
  for (const burst of burstsOf(sound, sampleRateHz)) {
    const heard = Float32Array.from(convolved(Float64Array.from(burst.samples), answer));
    addLater(recording, heard, later + burst.start, gain);
  }
  return recording;
}

export function addLater(recording: Float32Array, sound: Float32Array, by: number, gain: number): void {
  const from = Math.max(0, -by);
  const to = Math.min(sound.length, recording.length - by);
  for (let n = from; n < to; n++) recording[n + by] = (recording[n + by] ?? 0) + gain * (sound[n] ?? 0);
}
