import { keepAwake, soundContext, wakeSound } from "./sound-context.ts";

export interface PlaybackOptions {
  /** Where to end, in seconds of the take; at its end where absent. */
  readonly toSeconds?: number;
  /** Told about twelve times a second where in the take one is, in seconds. */
  readonly onPosition?: (seconds: number) => void;
  /** Told when the take, or the part of it, has come to its end by itself. */
  readonly onEnd?: () => void;
}

/** Lets the player hear a take again. */
export interface Playback {
  /**
   * Plays from a time in the take, in place of anything played before, without a crack where it is cut.
   *
   * @param fromSeconds held to the length of the take
   */
  play(samples: Float32Array, sampleRateHz: number, fromSeconds: number, options: PlaybackOptions): void;
  stop(): void;
}

const POSITION_MS = 80;
const FADE_SECONDS = 0.005;

export function createPlayback(): Playback {
  let end: () => void = () => {};
  return {
    play(samples, sampleRateHz, fromSeconds, options) {
      end();
      const { context, output } = soundContext();
      // A context that was asleep for good gives way to another, and this sound goes with it.
      const asleep = () => {
        if (soundContext().context === context && context.state === "running") return;
        end();
        options.onEnd?.();
      };
      void wakeSound().then(asleep, asleep);
      const rest = keepAwake();
      const buffer = context.createBuffer(1, Math.max(1, samples.length), sampleRateHz);
      buffer.getChannelData(0).set(samples);
      const source = new AudioBufferSourceNode(context, { buffer });
      const door = new GainNode(context, { gain: 0 });
      source.connect(door).connect(output);
      const from = Math.min(buffer.duration, Math.max(0, fromSeconds));
      const length = Math.min(buffer.duration, options.toSeconds ?? buffer.duration) - from;
      const starts = context.currentTime;
      openDoor(door.gain, starts, Math.max(0, length));
      // What is heard now left this clock a moment ago.
      const heard = () => from + Math.max(0, context.currentTime - (context.outputLatency || 0) - starts);
      const timer = setInterval(() => options.onPosition?.(heard()), POSITION_MS);
      end = () => {
        clearInterval(timer);
        source.onended = null;
        source.stop();
        source.disconnect();
        door.disconnect();
        rest();
        end = () => {};
      };
      source.onended = () => {
        end();
        options.onEnd?.();
      };
      source.start(starts, from, Math.max(0, length));
    },
    stop() {
      end();
    },
  };
}

/** In and out within a few milliseconds of either end. */
function openDoor(gain: AudioParam, starts: number, length: number): void {
  const fade = Math.min(FADE_SECONDS, length / 2);
  gain.setValueAtTime(0, starts);
  gain.linearRampToValueAtTime(1, starts + fade);
  gain.setValueAtTime(1, starts + length - fade);
  gain.linearRampToValueAtTime(0, starts + length);
}
