/** A note held so long is meant: longer than one picked up in passing, shorter than patience. */
const HELD_SECONDS = 0.5;
/** A held reed wavers less than this about where it began. */
const STEADY_SEMITONES = 0.4;
/** Breath and reed may flicker; so long a gap ends the note. */
const GAP_SECONDS = 0.12;

/** Notices that a player holds one note: how a take is begun with both hands full. */
export class HeldNote {
  private sinceSeconds: number | null = null;
  private lastSeconds = 0;
  private midi = 0;

  /**
   * @param midi pitch heard at `atSeconds`, null in silence
   * @returns whether one note has been held long enough
   */
  hear(atSeconds: number, midi: number | null): boolean {
    const { sinceSeconds } = this;
    if (midi === null) {
      if (sinceSeconds !== null && atSeconds - this.lastSeconds > GAP_SECONDS) this.sinceSeconds = null;
      return false;
    }
    const goesOn = sinceSeconds !== null && atSeconds - this.lastSeconds <= GAP_SECONDS;
    if (!goesOn || Math.abs(midi - this.midi) > STEADY_SEMITONES) {
      this.sinceSeconds = atSeconds;
      this.midi = midi;
    }
    this.lastSeconds = atSeconds;
    return atSeconds - (this.sinceSeconds ?? atSeconds) >= HELD_SECONDS;
  }
}
