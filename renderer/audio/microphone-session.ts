import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { ToldNote } from "./note-teller.ts";
import type { SoundTrouble } from "./sound-trouble.ts";
import type { TakePiece } from "./tap-messages.ts";

/** What the microphone hears just now. */
export interface LiveReading {
  /** When what was read sounded, on the sound context's clock: some 50 ms ago. */
  readonly atSeconds: number;
  /** Fractional, A4 = 440 Hz; null while no reed is judged to sound. */
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
  /** Level of the second reed in a note that has just ended, in dB against it; null where none sounded, and between takes. */
  readonly secondReedDb: number | null;
  readonly clipped: boolean;
  /** True after a second of exact zeros: the system does not let the sound through. */
  readonly silent: boolean;
}

export type OnPiece = (piece: TakePiece) => void;

export interface RecordedTake {
  /** The whole take, one channel, 32-bit float. */
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  /** When the first sample was taken in, on the sound context's clock. */
  readonly firstSampleSeconds: number;
  readonly lostSamples: number;
  readonly listening: Listening;
}

/** How listening ended without the player's doing. */
export interface EndedListening {
  readonly trouble: SoundTrouble;
  /** The running take as far as it is whole; null where none ran or nothing of it is whole. Never rejects. */
  readonly rescued: Promise<RecordedTake | null>;
}

/** An open microphone. */
export interface MicrophoneSession {
  readonly sampleRateHz: number;
  readonly deviceName: string;
  /** The chosen microphone, if it is away and this one is used instead; null otherwise. */
  readonly insteadOf: string | null;
  /** Processing that spoils reed tones and that the system would not turn off, in words. */
  readonly refused: readonly string[];
  onReading(listener: (reading: LiveReading) => void): () => void;
  /** Told once when something breaks into listening; the session is then closed. */
  onEnded(listener: (ended: EndedListening) => void): void;
  /**
   * @param known reeds of the instrument in hand; without, it is not known
   * @param onPiece told of the take piece by piece while it runs, each the caller's own
   */
  startTake(known?: KnownReeds, onPiece?: OnPiece): Promise<void>;
  stopTake(): Promise<RecordedTake>;
  cancelTake(): void;
  /**
   * Tells each note as it ends, until the returned function is called; one listener at a time.
   *
   * @param known reeds of the instrument in hand
   */
  followNotes(known: KnownReeds, onNote: (told: ToldNote) => void): () => void;
  close(): void;
}
