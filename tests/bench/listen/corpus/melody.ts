import type { Random } from "../../../../core/exercise/seeded-random.ts";

/** A note before it is given its cents. */
export interface WrittenNote {
  readonly on: number;
  readonly off: number;
  readonly midi: number;
}

export interface MelodyShape {
  readonly lowest: number;
  readonly highest: number;
  readonly count: number;
  /** Seconds from note to note. */
  readonly noteSeconds: number;
}

const MAJOR = [0, 2, 4, 5, 7, 9, 11];
/** How often a note is left out, how often one is sounded again, and how often a step is taken. */
const REST_SHARE = 0.08;
const REPEAT_SHARE = 0.1;
const STEP_BELOW = 0.7;
/** A note sounded again is let go this long before. */
const REPEAT_GAP_SECONDS = 0.035;

/** A random walk through C major in steps, leaps, repeats and rests; the first note's place is at 1 s. */
export function melody(random: Random, { lowest, highest, count, noteSeconds }: MelodyShape): WrittenNote[] {
  const notes: WrittenNote[] = [];
  let at = 1;
  let midi = anyNote(random, lowest, highest);
  while (notes.length < count) {
    if (random() < REST_SHARE) {
      at += noteSeconds;
      continue;
    }
    midi = nextNote(random, midi, lowest, highest);
    const last = notes.at(-1);
    if (last?.midi === midi) {
      notes[notes.length - 1] = { ...last, off: Math.min(last.off, at - REPEAT_GAP_SECONDS) };
    }
    notes.push({ on: at, off: at + noteSeconds - random() * 0.012, midi });
    at += noteSeconds;
  }
  return notes;
}

const anyNote = (random: Random, lowest: number, highest: number) =>
  lowest + Math.floor(random() * (highest - lowest));

function nextNote(random: Random, from: number, lowest: number, highest: number): number {
  const kind = random();
  if (kind <= REPEAT_SHARE) return from;
  const wide = kind < STEP_BELOW ? 1 + Math.floor(random() * 2) : 2 + Math.floor(random() * 6);
  const move = wide * (random() < 0.5 ? -1 : 1);
  let midi = from + move * 2;
  for (let tries = 0; !MAJOR.includes(((midi % 12) + 12) % 12) && tries < 12; tries++)
    midi += Math.sign(move);
  return midi < lowest || midi > highest ? anyNote(random, lowest, highest) : midi;
}

/** Every semitone from C3 to D7, the range of harmonicas in all keys. */
export function everySemitone(noteSeconds: number, gapSeconds: number): WrittenNote[] {
  const notes: WrittenNote[] = [];
  let at = 1;
  for (let midi = 48; midi <= 98; midi++) {
    notes.push({ on: at, off: at + noteSeconds, midi });
    at += noteSeconds + gapSeconds;
  }
  return notes;
}
