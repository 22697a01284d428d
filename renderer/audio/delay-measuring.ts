import type { LoopbackDelay } from "../../core/delay/loopback-delay.ts";
import {
  LEAST_BEAT_SECONDS,
  type PlayedAlongDelay,
  playedAlongDelay,
} from "../../core/delay/played-along-delay.ts";
import { makeProbe } from "../../core/delay/probe.ts";
import { seconds } from "../../core/units.ts";
import { isNoProgress, oneJob } from "../jobs/one-job.ts";
import { Agenda } from "./agenda.ts";
import DelayWorker from "./delay.worker.ts?worker";
import type { DelayJob, DelayReport } from "./delay-messages.ts";
import type { MicrophoneSession } from "./microphone.ts";
import { ReferenceVoices } from "./reference-voices.ts";
import { soundContext, wakeSound } from "./sound-context.ts";

export interface MeasuringOptions {
  /** Told the share done, 0..1. */
  readonly onProgress?: (share: number) => void;
  /** Ends it at once and silences it; the promise then rejects with an AbortError. */
  readonly signal: AbortSignal;
}

export interface PlayAlongOptions extends MeasuringOptions {
  /** Told each beat as it sounds: negative in the count-in, 0 for the first to be played on. */
  readonly onBeat?: (beat: number) => void;
}

/** Finds the delay from loudspeaker to microphone with an open microphone. */
export interface DelayMeasuring {
  /** @param loudness of the sound that is played, dB re full scale, at most 0 */
  byLoudspeaker(
    microphone: MicrophoneSession,
    loudness: number,
    options: MeasuringOptions,
  ): Promise<LoopbackDelay>;
  byPlayingAlong(microphone: MicrophoneSession, options: PlayAlongOptions): Promise<PlayedAlongDelay>;
}

/** Time to hand the sound over before it is due, also on a busy machine. */
const LEAD_SECONDS = 0.3;
const LOOK_MS = 50;

/** Beats to be played on, after those that are only heard. */
export const PLAYED_BEATS = 8;
export const COUNTED_BEATS = 4;
/** 75 a minute. */
const BEAT_SECONDS = 0.8;
/** For the last note to begin, however late it comes in. */
const TAIL_SECONDS = LEAST_BEAT_SECONDS;

export function createDelayMeasuring(): DelayMeasuring {
  return {
    async byLoudspeaker(microphone, loudness, { onProgress, signal }) {
      const { sampleRateHz } = microphone;
      const probe = makeProbe(sampleRateHz);
      const take = await recordWhile(microphone, signal, async () => {
        const { dueSeconds, stop } = await playProbe(probe, sampleRateHz, loudness);
        await clockReaches(dueSeconds + probe.length / sampleRateHz, dueSeconds, signal, onProgress).finally(
          stop,
        );
        return dueSeconds;
      });
      const playedSeconds = take.begun - take.firstSampleSeconds;
      return findDelay({ played: probe, recorded: take.samples, sampleRateHz, playedSeconds }, signal);
    },
    async byPlayingAlong(microphone, { onProgress, signal, onBeat }) {
      const take = await recordWhile(microphone, signal, async () => {
        await wakeSound();
        const { context } = soundContext();
        const voices = new ReferenceVoices();
        const first = context.currentTime + LEAD_SECONDS + COUNTED_BEATS * BEAT_SECONDS;
        const beats = Array.from({ length: COUNTED_BEATS + PLAYED_BEATS }, (_, n) => n - COUNTED_BEATS);
        for (const beat of beats)
          voices.soundBeat(beat === -COUNTED_BEATS || beat === 0, first + BEAT_SECONDS * beat);
        const seen = new Agenda(
          beats.map((beat) => ({
            atSeconds: first + BEAT_SECONDS * beat + (context.outputLatency || 0),
            call: () => onBeat?.(beat),
          })),
        );
        const end = first + BEAT_SECONDS * (PLAYED_BEATS - 1) + TAIL_SECONDS;
        const tell = (share: number) => {
          seen.callUpTo(context.currentTime);
          onProgress?.(share);
        };
        await clockReaches(end, first - COUNTED_BEATS * BEAT_SECONDS, signal, tell).finally(() =>
          voices.silence(),
        );
        return first;
      });
      const beats = Array.from({ length: PLAYED_BEATS }, (_, n) => seconds(take.begun + BEAT_SECONDS * n));
      const onsets = take.listening.notes.map((note) => seconds(take.firstSampleSeconds + note.onSeconds));
      return playedAlongDelay(beats, onsets);
    },
  };
}

/** Records for as long as something sounds. */
async function recordWhile(microphone: MicrophoneSession, signal: AbortSignal, sound: () => Promise<number>) {
  await microphone.startTake();
  try {
    signal.throwIfAborted();
    const begun = await sound();
    return { begun, ...(await microphone.stopTake()) };
  } catch (error) {
    microphone.cancelTake();
    throw error;
  }
}

/** Past the player's own loudness, which may be set for headphones or to nothing. */
async function playProbe(probe: Float32Array, sampleRateHz: number, loudness: number) {
  await wakeSound();
  const { context } = soundContext();
  const buffer = context.createBuffer(1, probe.length, sampleRateHz);
  buffer.getChannelData(0).set(probe);
  const source = new AudioBufferSourceNode(context, { buffer });
  const gain = new GainNode(context, { gain: 10 ** (Math.min(0, loudness) / 20) });
  source.connect(gain).connect(context.destination);
  // On a whole sample, so that nothing is interpolated.
  const dueSeconds = Math.ceil((context.currentTime + LEAD_SECONDS) * sampleRateHz) / sampleRateHz;
  source.start(dueSeconds);
  const stop = () => {
    source.stop();
    source.disconnect();
    gain.disconnect();
  };
  return { dueSeconds, stop };
}

/** Waits until the sound context's clock has come so far; rejects when stopped. */
function clockReaches(
  end: number,
  begin: number,
  signal: AbortSignal,
  onProgress: ((share: number) => void) | undefined,
): Promise<void> {
  const { context } = soundContext();
  return new Promise((resolve, reject) => {
    const settle = (outcome: () => void) => {
      clearInterval(timer);
      signal.removeEventListener("abort", abort);
      outcome();
    };
    const abort = () => settle(() => reject(new DOMException("stopped", "AbortError")));
    const timer = setInterval(() => {
      const now = context.currentTime;
      onProgress?.(Math.min(1, Math.max(0, (now - begin) / (end - begin))));
      if (now >= end) settle(resolve);
    }, LOOK_MS);
    signal.addEventListener("abort", abort);
  });
}

/** Compares what was played and recorded off the window's thread. */
const findDelay = (job: DelayJob, signal: AbortSignal): Promise<LoopbackDelay> =>
  oneJob(() => new DelayWorker(), job, isNoProgress<DelayReport>, { signal });
