import type { MidiNote } from "./track-builder.ts";

/** Grids a file can be laid on, as note values: 1/12 is a quaver of a triplet, 1/24 a semiquaver of one. */
export const MIDI_GRIDS = ["1/8", "1/12", "1/16", "1/24", "1/32", "1/48"] as const;
export type MidiGrid = (typeof MIDI_GRIDS)[number];

/** A note on the grid; times in crotchets. */
export interface GridNote {
  readonly note: MidiNote;
  readonly start: number;
  readonly end: number;
  /** The end was on the grid as it is, so that a rest after it is meant. */
  readonly endMeant: boolean;
  /** Onset, in the file's ticks, of the first of the notes it begins together with. */
  readonly chordAt: number;
  /** How far its onset was moved; positive: it is written later than it was played. */
  readonly shift: number;
}

export interface Quantised {
  readonly notes: readonly GridNote[];
  /** Grids used, the commonest first, with how many notes begin on each. */
  readonly grids: readonly { readonly grid: MidiGrid; readonly notes: number }[];
}

/** Steps of each grid in a quaver. */
const STEPS: Readonly<Record<MidiGrid, number>> = {
  "1/8": 1,
  "1/12": 3 / 2,
  "1/16": 2,
  "1/24": 3,
  "1/32": 4,
  "1/48": 6,
};
/**
 * Grids each stretch can choose among, how many quavers it then takes, and the natural logarithm of how rare it is: dance
 * tunes are in semiquavers, triplets of quavers or semiquavers the exception, and what is finer a rarity [P].
 */
const CHOICES = [
  { grid: "1/16", quavers: 1, rarity: -Math.log(0.9) },
  { grid: "1/12", quavers: 2, rarity: -Math.log(0.06) },
  { grid: "1/24", quavers: 1, rarity: -Math.log(0.035) },
  { grid: "1/32", quavers: 1, rarity: -Math.log(0.005) },
] as const satisfies readonly { grid: MidiGrid; quavers: number; rarity: number }[];
/** Spread of a good player's onsets about the beat, in seconds [P]. */
const SPREAD = 0.015;
/** A file written by a program has no spread but its own rounding. */
const MACHINE_SPREAD = 0.003;
/** Onsets of such a file lie this near, in quavers, to twelfths of a quaver: [calc] 2 ticks of 480 to the crotchet are 1/120. */
const EXACT = 1 / 100;
/** Notes of one chord come within this, in seconds, and sound on together: programs and players roll chords a little [P]. */
const TOGETHER = 0.05;
/** Ends are played far more freely than onsets. */
const END_WEIGHT = 0.1;
/** A file written from notation has its ends within this part of a crotchet: one tick at 96 to the crotchet. */
const MEANT = 1 / 96;

/**
 * Lays notes on a grid: the given one, or in each stretch the likeliest, by how far its onsets and ends lie from it against
 * the spread of playing, how fine it is and how rare (the shortest description, Rissanen 1978), over all ways to cut the
 * time into stretches.
 *
 * @param notes in order of onset
 * @param secondsOf length of the crotchet at a place, counted in crotchets
 */
export function quantise(
  notes: readonly MidiNote[],
  ticksPerCrotchet: number,
  secondsOf: (crotchet: number) => number,
  grid: MidiGrid | null,
): Quantised {
  const quaversOf = (ticks: number) => (2 * ticks) / ticksPerCrotchet;
  const together = beginningTogether(
    notes,
    (ticks) => secondsOf(ticks / ticksPerCrotchet) / ticksPerCrotchet,
  );
  const leaders = notes.filter((note, index) => together[index] === note.at);
  const stretches = grid === null ? likeliestStretches(leaders, quaversOf, secondsOf) : null;
  const onGrid = (place: number) => {
    const quaver = Math.floor(place);
    const { start, grid: own } = stretches?.[quaver] ?? { start: quaver, grid: grid ?? "1/16" };
    // A whole file on the grid of quaver triplets has one stretch for each crotchet.
    const from = grid === "1/12" ? quaver - (quaver % 2) : start;
    return {
      place: from + Math.round((place - from) * STEPS[own]) / STEPS[own],
      step: 1 / STEPS[own],
      grid: own,
    };
  };
  const counts = new Map<MidiGrid, number>();
  const laid = notes.map((note, index): GridNote => {
    const { place: start, step, grid: own } = onGrid(quaversOf(together[index] ?? note.at));
    const played = quaversOf(note.end);
    const end = Math.max(onGrid(played).place, start + step);
    counts.set(own, (counts.get(own) ?? 0) + 1);
    return {
      note,
      start: start / 2,
      end: end / 2,
      endMeant: Math.abs(end - played) / 2 <= MEANT,
      chordAt: together[index] ?? note.at,
      shift: (start - quaversOf(note.at)) / 2,
    };
  });
  const grids = [...counts].map(([one, count]) => ({ grid: one, notes: count }));
  return { notes: laid, grids: grids.sort((one, other) => other.notes - one.notes) };
}

/** For each note, in order of onset, when the first of the notes it begins together with begins. */
function beginningTogether(
  notes: readonly MidiNote[],
  secondsPerTickAt: (ticks: number) => number,
): readonly number[] {
  let first: MidiNote | null = null;
  return notes.map((note): number => {
    const late = first === null ? Number.POSITIVE_INFINITY : note.at - first.at;
    const soundsOn = first !== null && first.end - note.at > late;
    if (first === null || !soundsOn || late * secondsPerTickAt(note.at) > TOGETHER) first = note;
    return first.at;
  });
}

interface Stretch {
  /** Its first quaver. */
  readonly start: number;
  readonly grid: MidiGrid;
}

/** For each quaver the stretch it belongs to. */
function likeliestStretches(
  notes: readonly MidiNote[],
  quaversOf: (ticks: number) => number,
  secondsOf: (crotchet: number) => number,
): readonly Stretch[] {
  const places = placesByQuaver(notes, quaversOf);
  const spread = isMachineMade(notes, quaversOf) ? MACHINE_SPREAD : SPREAD;
  const count = places.length;
  /** Least cost of all up to each quaver, and the stretch that ends there. */
  const least = new Float64Array(count + 1).fill(Number.POSITIVE_INFINITY);
  const lastOf: { readonly start: number; readonly choice: (typeof CHOICES)[number] }[] = [];
  least[0] = 0;
  for (let start = 0; start < count; start++) {
    const spreads = secondsOf(start / 2) / 2 / spread;
    for (const choice of CHOICES) {
      const end = start + choice.quavers;
      if (end > count) continue;
      const cost = (least[start] ?? 0) + costOf(places.slice(start, end).flat(), start, choice, spreads);
      if (cost >= (least[end] ?? 0)) continue;
      least[end] = cost;
      lastOf[end] = { start, choice };
    }
  }
  const stretches: Stretch[] = [];
  for (let end = count; end > 0; ) {
    const { start, choice } = lastOf[end] ?? { start: end - 1, choice: CHOICES[0] };
    for (let quaver = start; quaver < end; quaver++) stretches[quaver] = { start, grid: choice.grid };
    end = start;
  }
  return stretches;
}

/** By chance an onset lies so near in 24 of 100 cases ([calc] 2 · 12/100); a few may be grace notes. */
function isMachineMade(notes: readonly MidiNote[], quaversOf: (ticks: number) => number): boolean {
  const exact = notes.filter(({ at }) => {
    const twelfths = quaversOf(at) * 12;
    return Math.abs(twelfths - Math.round(twelfths)) / 12 <= EXACT;
  });
  return exact.length >= notes.length * 0.75;
}

interface Place {
  /** In quavers. */
  readonly at: number;
  readonly weight: number;
}

/** @param spreads a quaver's length in spreads of playing */
function costOf(
  places: readonly Place[],
  start: number,
  { grid, rarity }: (typeof CHOICES)[number],
  spreads: number,
): number {
  const steps = STEPS[grid];
  return places.reduce((sum, { at, weight }) => {
    const from = at - start;
    const off = (from - Math.round(from * steps) / steps) * spreads;
    return sum + weight * (off ** 2 / 2 + Math.log(steps));
  }, rarity);
}

function placesByQuaver(notes: readonly MidiNote[], quaversOf: (ticks: number) => number): Place[][] {
  const last = notes.reduce((most, { end }) => Math.max(most, end), 0);
  const found = Array.from({ length: Math.floor(quaversOf(last)) + 1 }, (): Place[] => []);
  for (const { at, end } of notes) {
    for (const [ticks, weight] of [
      [at, 1],
      [end, END_WEIGHT],
    ] as const) {
      const place = quaversOf(ticks);
      found[Math.floor(place)]?.push({ at: place, weight });
    }
  }
  return found;
}
