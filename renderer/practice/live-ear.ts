import { countInSeconds, type Exercise } from "../../core/exercise/exercise.ts";
import type { LiveReading } from "../audio/microphone.ts";
import { HeldNote } from "./held-note.ts";
import { LoudspeakerWatch } from "./loudspeaker-watch.ts";
import { NoteFollower } from "./note-follower.ts";

/** At the player's own pace the take is closed after this much silence behind the last note. */
const SILENCE_AT_END_SECONDS = 1.5;
/** Waiting for the first note, the take is begun anew this often, so that silence does not pile up. */
const LONGEST_SILENCE_SECONDS = 30;

/** What is told of a take without a beat. */
export interface Following {
  readonly onNote: (noteIndex: number | null) => void;
  /** The last note is over. */
  readonly onEnd: () => void;
  /** Nothing was played for long. */
  readonly onSilence: () => void;
}

/** What the live readings are listened for just now, and where in the exercise they lie. */
export class LiveEar {
  private hearNow: (reading: LiveReading) => void = () => {};
  private since: (atSeconds: number) => number | null = () => null;

  constructor(private readonly exercise: Exercise) {}

  /** Seconds from beat 0 of the running take, or what stands for it without a beat; null between takes. */
  sinceBeatZero(atSeconds: number): number | null {
    return this.since(atSeconds);
  }

  hear(reading: LiveReading): void {
    this.hearNow(reading);
  }

  /** Listens for nothing. */
  rest(): void {
    this.hearNow = () => {};
    this.since = () => null;
  }

  /** Listens for one note held. */
  awaitNote(onHeld: () => void): void {
    const held = new HeldNote();
    this.hearNow = ({ atSeconds, pitchMidi }) => {
      if (!held.hear(atSeconds, pitchMidi)) return;
      this.rest();
      onHeld();
    };
  }

  /** A take with a beat. @param onHearsBeat told once, if the microphone hears it */
  goWithBeat(beatZeroSeconds: number, onHearsBeat: () => void): void {
    const watch = new LoudspeakerWatch(countInAt(this.exercise, beatZeroSeconds));
    this.since = (atSeconds) => atSeconds - beatZeroSeconds;
    this.hearNow = ({ atSeconds, levelDbfs, pitchMidi }) => {
      watch.hear(atSeconds, levelDbfs, pitchMidi);
      if (!watch.hearsBeat) return;
      this.hearNow = () => {};
      onHearsBeat();
    };
  }

  /** A take in the player's own time: begins with the first note, ends behind the last. */
  followPlayer({ onNote, onEnd, onSilence }: Following): void {
    const follower = new NoteFollower(this.exercise);
    let waitingSince: number | null = null;
    let shown: number | null = null;
    this.since = (atSeconds) => follower.writtenSeconds(atSeconds);
    this.hearNow = ({ atSeconds, pitchMidi }) => {
      waitingSince ??= atSeconds;
      if (shown === null && pitchMidi === null && atSeconds - waitingSince > LONGEST_SILENCE_SECONDS) {
        waitingSince = atSeconds;
        onSilence();
      }
      follower.hear(atSeconds, pitchMidi);
      if (follower.noteIndex !== shown) {
        shown = follower.noteIndex;
        onNote(shown);
      }
      if (follower.silentAtEnd(atSeconds) > SILENCE_AT_END_SECONDS) onEnd();
    };
  }
}

/** When the beats of the count-in sound, on the sound context's clock. */
function countInAt(exercise: Exercise, beatZeroSeconds: number): readonly number[] {
  const { countInBeats } = exercise;
  const beat = countInSeconds(exercise) / countInBeats;
  return Array.from({ length: countInBeats }, (_, n) => beatZeroSeconds - (countInBeats - n) * beat);
}
