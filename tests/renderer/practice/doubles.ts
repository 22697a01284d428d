import type { Exercise } from "../../../core/exercise/exercise.ts";
import type { KnownReeds } from "../../../core/listen/known-reeds.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { slowDown } from "../../../core/listen/slow-down.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import type {
  EndedListening,
  LiveReading,
  MicrophoneProblem,
  MicrophoneSession,
  OnPiece,
  OpenedMicrophone,
  RecordedTake,
} from "../../../renderer/audio/microphone.ts";
import type { ReferenceOptions } from "../../../renderer/audio/reference.ts";
import type { PracticeServices } from "../../../renderer/practice/practice-services.ts";
import { MemoryHistoryStore } from "../../../renderer/store/memory-history-store.ts";
import { MemoryRunningTakes } from "../memory-running-takes.ts";

const RATE_HZ = 44_100;

/** A world without sound card: the reference only remembers, the microphone gives a simulated take. Analysis is real. */
export class PretendWorld {
  readonly history = new MemoryHistoryStore(() => "id-1");
  readonly running = new MemoryRunningTakes();
  readonly log: string[] = [];
  problem: MicrophoneProblem | null = null;
  reference: ReferenceOptions | null = null;
  /** Ends listening as something other than the player does. */
  breakOff: (ended: EndedListening) => void = () => {};
  /** Gives what runs a piece of its take. */
  piece: OnPiece = () => {};
  /** Gives the session a reading of the open microphone. */
  read: (reading: LiveReading) => void = () => {};
  /** What the microphone was last told of the instrument. */
  known: KnownReeds | null = null;

  constructor(private readonly exercise: Exercise) {}

  unplug(): void {
    this.breakOff({ trouble: { kind: "unplugged" }, rescued: Promise.resolve(null) });
  }

  services(changes: Partial<PracticeServices> = {}): PracticeServices {
    return {
      openMicrophone: async () => this.open(),
      reference: {
        play: async (_, options) => {
          this.reference = options;
          this.log.push(options.notes ? "reference" : "beat");
          return { beatZeroSeconds: 100 + 4 * (60 / 90), stop: () => void this.log.push("hush") };
        },
      },
      playback: { play: () => void this.log.push("replay"), stop: () => {} },
      decodeRecording: async () => ({ kind: "take", ...this.take() }),
      listenInWorker: async (samples, rate, options) =>
        listenToTake(samples, rate, undefined, options?.known ?? null),
      simulateInWorker: async (exercise, settings) => {
        const take = simulateTake(exercise, { ...settings, sampleRateHz: RATE_HZ });
        return { take, listening: listenToTake(take.samples, take.sampleRateHz) };
      },
      marking: {
        mark: async (exercise, listening, settings) => scoreTake(exercise, listening, settings),
        rehearse: async () => {},
      },
      slowInWorker: async (samples, rate, speed) => slowDown(samples, rate, speed),
      history: this.history,
      runningTakes: { begin: () => this.running.begin() },
      nowEpochMs: () => 5000,
      zone: () => "Europe/Dublin",
      newSeed: () => 9,
      ...changes,
    };
  }

  take() {
    return simulateTake(this.exercise, { seed: 3, plants: [], sampleRateHz: RATE_HZ });
  }

  private open(): OpenedMicrophone {
    this.log.push("open");
    return this.problem === null
      ? { kind: "open", session: this.session() }
      : { kind: "problem", problem: this.problem };
  }

  private session(): MicrophoneSession {
    return {
      sampleRateHz: RATE_HZ,
      deviceName: "pretend",
      insteadOf: null,
      refused: [],
      onReading: (listener) => {
        this.read = listener;
        return () => {};
      },
      onEnded: (listener) => {
        this.breakOff = listener;
      },
      followNotes: () => () => {},
      startTake: async (known, onPiece) => {
        this.piece = onPiece ?? (() => {});
        this.known = known ?? null;
        this.log.push("start take");
      },
      stopTake: async () => this.recorded(),
      cancelTake: () => void this.log.push("cancel take"),
      close: () => void this.log.push("close"),
    };
  }

  private recorded(): RecordedTake {
    const { samples, sampleRateHz } = this.take();
    return {
      samples,
      sampleRateHz,
      firstSampleSeconds: 100,
      lostSamples: 0,
      listening: listenToTake(samples, sampleRateHz, undefined, this.known),
    };
  }
}
