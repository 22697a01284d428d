import type { LoopbackDelay } from "../../../core/delay/loopback-delay.ts";
import type { MeasuredDelay } from "../../../core/delay/measured-delays.ts";
import type { PlayedAlongDelay } from "../../../core/delay/played-along-delay.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { MeasuringOptions } from "../../../renderer/audio/delay-measuring.ts";
import type {
  EndedListening,
  LiveReading,
  MicrophoneProblem,
  MicrophoneSession,
  OpenedMicrophone,
} from "../../../renderer/audio/microphone.ts";
import type { SoundDevice } from "../../../renderer/audio/sound-device.ts";
import { SoundDevices } from "../../../renderer/audio/sound-devices.ts";
import { SoundCheckSession } from "../../../renderer/sound-check/sound-check-session.ts";

const RATE_HZ = 44_100;

/** A world without sound card: devices come and go as told, measuring answers what it was told to. */
export class PretendSoundCheck {
  readonly log: string[] = [];
  readonly kept: MeasuredDelay[] = [];
  problem: MicrophoneProblem | null = null;
  insteadOf: string | null = null;
  refused: readonly string[] = [];
  /** What the microphone records. */
  recording = new Float32Array(RATE_HZ);
  byLoudspeaker: LoopbackDelay | Error = { kind: "not heard", clearBursts: 0, bursts: 6 };
  byPlayingAlong: PlayedAlongDelay = { kind: "too few", usedBeats: 0, beats: 8 };
  read: (reading: LiveReading) => void = () => {};
  /** Ends listening as something other than the player does. */
  breakOff: (ended: EndedListening) => void = () => {};
  plugged: readonly { readonly kind: MediaDeviceKind; readonly device: SoundDevice }[] = [];
  /** Measuring goes on until told to go on. */
  hold: Promise<void> = Promise.resolve();
  private change = () => {};

  readonly devices = new SoundDevices({
    list: async () =>
      this.plugged.map(({ kind, device: { id, name, group } }) => ({
        kind,
        deviceId: id,
        label: name,
        groupId: group,
        toJSON: () => ({}),
      })),
    onChange: (listener) => {
      this.change = listener;
    },
    sendTo: async (id) => void this.log.push(`sound goes out by ${id}`),
  });

  readonly session = new SoundCheckSession(
    {
      openMicrophone: async () => this.open(),
      measuring: {
        byLoudspeaker: async (_, loudness, options) => {
          this.log.push(`noise at ${loudness} dB`);
          await this.held(options);
          if (this.byLoudspeaker instanceof Error) throw this.byLoudspeaker;
          return this.byLoudspeaker;
        },
        byPlayingAlong: async (_, options) => {
          options.onBeat?.(2);
          await this.held(options);
          return this.byPlayingAlong;
        },
      },
      devices: this.devices,
      nowEpochMs: () => Date.now(),
    },
    (delay) => void this.kept.push(delay),
  );

  unplug(): void {
    this.breakOff({ trouble: { kind: "unplugged" }, rescued: Promise.resolve(null) });
  }

  async plug(...plugged: PretendSoundCheck["plugged"]): Promise<void> {
    this.plugged = plugged;
    this.change();
    for (let turn = 0; turn < 5; turn++) await Promise.resolve();
  }

  private async held({ onProgress, signal }: MeasuringOptions): Promise<void> {
    onProgress?.(0.5);
    await this.hold;
    signal.throwIfAborted();
  }

  private open(): OpenedMicrophone {
    this.log.push("open");
    if (this.problem !== null) return { kind: "problem", problem: this.problem };
    return { kind: "open", session: this.microphone() };
  }

  private microphone(): MicrophoneSession {
    return {
      sampleRateHz: RATE_HZ,
      deviceName: "Desk microphone",
      insteadOf: this.insteadOf,
      refused: this.refused,
      onReading: (listener) => {
        this.read = listener;
        return () => {};
      },
      onEnded: (listener) => {
        this.breakOff = listener;
      },
      followNotes: () => () => {},
      startTake: async () => void this.log.push("start take"),
      stopTake: async () => ({
        samples: this.recording,
        sampleRateHz: RATE_HZ,
        firstSampleSeconds: 0,
        lostSamples: 0,
        listening: listenToTake(this.recording, RATE_HZ),
      }),
      cancelTake: () => void this.log.push("cancel take"),
      close: () => void this.log.push("close"),
    };
  }
}
