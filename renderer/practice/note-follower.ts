import { type Exercise, lengthOf, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";

/** A pitch this near a note is that note. */
const RIGHT_NOTE_SEMITONES = 0.6;
/** So many readings in a row have to say so. */
const SURE_READINGS = 2;
/** How many notes ahead are looked at: one may be left out. */
const LOOK_AHEAD = 2;

/**
 * Follows a player who has no beat through an exercise, note by note, by live pitch. For the eyes only: it does not go
 * back and cannot tell two notes of one pitch apart unless there is silence between them; marks come from the whole take.
 */
export class NoteFollower {
  private index = -1;
  private enteredSeconds = 0;
  private silentSince: number | null = null;
  private sure = 0;
  private next = -1;
  private parted = true;

  constructor(private readonly exercise: Exercise) {}

  /** The note being played, or null before the first. */
  get noteIndex(): number | null {
    return this.index < 0 ? null : this.index;
  }

  /** @param midi pitch heard at `atSeconds`, null in silence */
  hear(atSeconds: number, midi: number | null): void {
    if (midi === null) {
      this.silentSince ??= atSeconds;
      this.parted = true;
      return;
    }
    this.silentSince = null;
    const found = this.noteAhead(midi);
    this.sure = found === null || found !== this.next ? 1 : this.sure + 1;
    this.next = found ?? -1;
    if (found === null || this.sure < SURE_READINGS) return;
    this.index = found;
    this.enteredSeconds = atSeconds;
    this.parted = false;
  }

  /** Where in the written exercise the player is, in seconds from beat 0; null before the first note. */
  writtenSeconds(atSeconds: number): number | null {
    const note = this.exercise.notes[this.index];
    if (note === undefined) return null;
    const within = Math.min(atSeconds - this.enteredSeconds, 0.98 * lengthOf(this.exercise, note));
    return onsetOf(this.exercise, note) + Math.max(0, within);
  }

  /** Seconds of silence after the last note; 0 before that. */
  silentAtEnd(atSeconds: number): number {
    const atEnd = this.index === this.exercise.notes.length - 1;
    return atEnd && this.silentSince !== null ? atSeconds - this.silentSince : 0;
  }

  private noteAhead(midi: number): number | null {
    const isNote = (index: number) => {
      const note = this.exercise.notes[index];
      return note !== undefined && Math.abs(targetMidi(this.exercise, note) - midi) <= RIGHT_NOTE_SEMITONES;
    };
    // While the same pitch goes on, it is still the same note.
    if (this.index >= 0 && isNote(this.index) && !this.parted) return null;
    for (let ahead = 1; ahead <= LOOK_AHEAD; ahead++)
      if (isNote(this.index + ahead)) return this.index + ahead;
    return null;
  }
}
