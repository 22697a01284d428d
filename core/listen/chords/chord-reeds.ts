/** A plain reed of the instrument in hand, as chords are heard with it. */
export interface ChordReed {
  /** Counted from 1. */
  readonly hole: number;
  readonly breath: "blow" | "draw";
  /** Where it sounds, fractional MIDI, A4 = 440 Hz. */
  readonly midi: number;
}

/** Reeds that may sound together: of one breath, rising by hole. */
export type Grip = readonly ChordReed[];

/** A mouth covers up to five holes; beyond that nobody plays. Common practice. */
const MOST_NEIGHBOURS = 5;
/** A tongue covers one to three holes between the corners of the mouth. Common practice. */
const MOST_BLOCKED = 3;
/** Reeds nearer than this sound the same note. */
const SAME_NOTE_SEMITONES = 0.5;

/**
 * Every way of sounding neighbouring reeds of one breath at once, up to five, each note and its octaves once: what stands
 * an octave above another reed adds nothing that other would not have of itself (`octavesBesides` names it). Of ways
 * that sound the same notes, as holes in unison do, there is the one with the fewest holes, the lowest of equals.
 */
export function gripsOf(reeds: readonly ChordReed[]): readonly Grip[] {
  const all = (["blow", "draw"] as const).flatMap((breath) =>
    neighbours(reeds.filter((reed) => reed.breath === breath).sort((a, b) => a.hole - b.hole)),
  );
  const known = new Map<string, Grip>();
  for (const grip of all.sort((a, b) => a.length - b.length).map(withoutOctaves)) {
    const sounds = soundOf(grip);
    if (!known.has(sounds)) known.set(sounds, grip);
  }
  return [...known.values()];
}

function neighbours(row: readonly ChordReed[]): readonly Grip[] {
  return row.flatMap((_, from) =>
    Array.from({ length: MOST_NEIGHBOURS }, (_unused, more) => row.slice(from, from + more + 1)).filter(
      (grip, more) => grip.length === more + 1 && isUnbroken(grip),
    ),
  );
}

const isUnbroken = (grip: Grip) =>
  grip.every((reed, place) => place === 0 || reed.hole === (grip[place - 1]?.hole ?? 0) + 1);

/** Each reed that is neither in unison with a lower hole nor octaves above any other. */
function withoutOctaves(grip: Grip): Grip {
  return grip.filter((reed, place) =>
    grip.every((other, at) => {
      const octaves = (reed.midi - other.midi) / 12;
      if (at === place || Math.abs(octaves - Math.round(octaves)) > SAME_NOTE_SEMITONES / 12) return true;
      return Math.round(octaves) < 0 || (Math.round(octaves) === 0 && at > place);
    }),
  );
}

/**
 * Reeds a grip may have besides without another note name being heard: the next holes that stand octaves above a reed of
 * it, and the upper corner of the mouth round the tongue.
 */
export function octavesBesides(grip: Grip, reeds: readonly ChordReed[]): readonly ChordReed[] {
  const [low, high] = [grip[0], grip.at(-1)];
  if (low === undefined || high === undefined) return [];
  const row = reeds.filter((reed) => reed.breath === low.breath && reed.hole > high.hole);
  const above = row.filter((reed) => grip.some((one) => isOctavesAbove(reed.midi, one.midi)));
  if (grip.length === 1) return above.filter((reed) => reed.hole <= high.hole + MOST_BLOCKED + 1);
  return above.filter(
    (reed, place) => reed.hole === high.hole + place + 1 && grip.length + place < MOST_NEIGHBOURS,
  );
}

function isOctavesAbove(midi: number, other: number): boolean {
  const octaves = Math.round((midi - other) / 12);
  return octaves > 0 && Math.abs(midi - other - 12 * octaves) < SAME_NOTE_SEMITONES;
}

/** The notes of a grip as a text, so that grips that sound alike have the same. */
function soundOf(grip: Grip): string {
  const notes = grip.map(({ midi }) => Math.round(midi / SAME_NOTE_SEMITONES)).sort((a, b) => a - b);
  return `${grip[0]?.breath} ${notes.join(" ")}`;
}
