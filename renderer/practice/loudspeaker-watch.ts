/** After its time a beat may be this late in the microphone: output, air, input. */
const LATEST_SECONDS = 0.35;
/** A beat is heard where the level rises so far above what was before it ... */
const RISE_DB = 12;
/** ... and is no mere breath of noise. */
const AUDIBLE_DBFS = -60;
/** The beat itself may show as a pitch for a moment; a pitch that lasts is a player. */
const PLAYER_SECONDS = 0.15;
/** Two beats by chance are rare, three rarer; a count-in may have only two. */
const BEATS_TO_BE_SURE = 2;

interface Level {
  readonly atSeconds: number;
  readonly dbfs: number;
}

/**
 * Notices that the microphone hears the beat of the count-in, while nobody plays: then the reference would be marked as
 * the player's. A player who plays into the count-in is told from the beat by a pitch that lasts.
 */
export class LoudspeakerWatch {
  private readonly levels: Level[] = [];
  private pitchedSince: number | null = null;
  private hasPlayer = false;

  /** @param beatSeconds when the beats of the count-in sound, on the clock of the readings, rising */
  constructor(private readonly beatSeconds: readonly number[]) {}

  hear(atSeconds: number, levelDbfs: number, midi: number | null): void {
    const last = this.beatSeconds.at(-1);
    if (last === undefined || atSeconds > last + LATEST_SECONDS) return;
    if (midi === null) this.pitchedSince = null;
    else this.pitchedSince ??= atSeconds;
    if (this.pitchedSince !== null && atSeconds - this.pitchedSince > PLAYER_SECONDS) this.hasPlayer = true;
    this.levels.push({ atSeconds, dbfs: levelDbfs });
  }

  /** Whether so far the beat was heard for certain. */
  get hearsBeat(): boolean {
    if (this.hasPlayer) return false;
    return this.beatSeconds.filter((beat) => this.isHeard(beat)).length >= BEATS_TO_BE_SURE;
  }

  private isHeard(beat: number): boolean {
    const [from, to] = [beat - 0.15, beat + LATEST_SECONDS];
    const before = this.levels.filter(({ atSeconds }) => atSeconds >= from && atSeconds < beat);
    const after = this.levels.filter(({ atSeconds }) => atSeconds >= beat && atSeconds < to);
    if (before.length === 0 || after.length === 0) return false;
    const quiet = Math.max(...before.map(({ dbfs }) => dbfs));
    const loud = Math.max(...after.map(({ dbfs }) => dbfs));
    return loud >= AUDIBLE_DBFS && loud - quiet >= RISE_DB;
  }
}
