import fc from "fast-check";
import { SEVEN_MODES } from "../../core/pitch/modes.ts";
import { midiOfName } from "../../core/pitch/note-names.ts";
import { USUAL_TEMPI } from "../../core/tune/dances.ts";
import { fifthsOfKey, keyOfFifths } from "../../core/tune/key-signature.ts";
import { playOut } from "../../core/tune/play-out.ts";
import {
  type ChordAt,
  type Metre,
  type Ornament,
  TICKS_PER_SEMIBREVE,
  type Tune,
  type TuneNote,
} from "../../core/tune/tune.ts";
import { metreTicks, type WrittenBar, type WrittenNote } from "../../core/tune/written-bar.ts";
import { bpm, midi } from "../../core/units.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;

const metres: readonly Metre[] = [
  { beats: 4, unit: 4 },
  { beats: 2, unit: 2 },
  { beats: 2, unit: 4 },
  { beats: 3, unit: 4 },
  { beats: 6, unit: 8 },
  { beats: 9, unit: 8 },
];

export const anyKey = fc
  .record({ fifths: fc.integer({ min: -4, max: 5 }), mode: fc.constantFrom(...SEVEN_MODES) })
  .map(({ fifths, mode }) => keyOfFifths(fifths, mode, true));

const anyName = fc
  .record({
    letter: fc.constantFrom(..."CDEFGAB"),
    sign: fc.constantFrom("", "", "", "#", "b"),
    octave: fc.constantFrom(3, 4, 4, 5, 5, 6),
  })
  .map(({ letter, sign, octave }) => letter + sign + octave);

const anyOrnament: fc.Arbitrary<readonly Ornament[]> = fc.oneof(
  { weight: 8, arbitrary: fc.constant([]) },
  fc.constantFrom("roll", "staccato", "trill", "turn").map((kind) => [{ kind, notes: [] }]),
  fc
    .array(anyName, { minLength: 1, maxLength: 3 })
    .map((names) => [{ kind: "grace", notes: names.map((name) => ({ name, midi: midiOf(name) })) }]),
);

const midiOf = (name: string) => midi(midiOfName(name) ?? 60);

/** What fills a quarter, a quaver or a dotted quarter: lengths in quavers; negative for rests. */
const FILLS: Readonly<Record<number, readonly (readonly number[])[]>> = {
  1: [[1], [0.5, 0.5], [-1], [0.25, 0.75], [1 / 3, 1 / 3, 1 / 3]],
  2: [
    [2],
    [1, 1],
    [1.5, 0.5],
    [0.5, 1.5],
    [2 / 3, 2 / 3, 2 / 3],
    [4 / 3, 2 / 3],
    [1, -1],
    [0.4, 0.4, 0.4, 0.4, 0.4],
  ],
  3: [[3], [1, 1, 1], [2, 1], [1.5, 0.5, 1], [-1, 2], [0.5, 0.5, 0.5, 0.5, 1]],
};

/** The fills a MIDI file without a stated grid can be laid on: semiquavers, and triplets of quavers or semiquavers. */
const PLAIN_FILLS: typeof FILLS = Object.fromEntries(
  Object.entries(FILLS).map(([quavers, fills]) => [
    quavers,
    fills.filter((fill) => fill.every((length) => [2, 3].some((steps) => Number.isInteger(length * steps)))),
  ]),
);

interface Step {
  readonly pick: number;
  readonly name: string;
  readonly ornaments: readonly Ornament[];
  readonly tied: boolean;
  readonly second: string | null;
  readonly symbol: string | null;
}

const anyStep: fc.Arbitrary<Step> = fc.record({
  pick: fc.nat(100),
  name: anyName,
  ornaments: anyOrnament,
  tied: fc.constantFrom(true, false, false, false, false, false),
  second: fc.option(anyName, { freq: 9 }),
  symbol: fc.option(fc.constantFrom("G", "Am", "D7", "Em", "F#m7", "Bb/D"), { freq: 6 }),
});

/** A bar of so many quavers, filled from a row of steps. */
function barOf(quavers: number, metre: Metre, steps: readonly Step[], fillsOf: typeof FILLS): WrittenBar {
  const notes: WrittenNote[] = [];
  const chords: { atTicks: number; symbol: string }[] = [];
  let at = 0;
  let turn = 0;
  const next = () => steps[turn++ % steps.length];
  const beat = metre.unit === 8 ? 3 : 2;
  while (at < quavers - 1e-9) {
    const left = Math.round(quavers - at);
    const fills = fillsOf[Math.min(beat, left)] ?? [[1]];
    const fill = fills[(steps[turn % steps.length]?.pick ?? 0) % fills.length] ?? [1];
    for (const length of fill) {
      const step = next();
      if (step === undefined) break;
      const atTicks = Math.round(at * QUAVER);
      if (step.symbol !== null) chords.push({ atTicks, symbol: step.symbol });
      if (length > 0) notes.push(noteOf(step, atTicks, Math.round(length * QUAVER)));
      at += Math.abs(length);
    }
  }
  return { ...EMPTY_BAR, notes, chords, metre, lengthTicks: Math.round(quavers * QUAVER) };
}

function noteOf(step: Step, atTicks: number, lengthTicks: number): WrittenNote {
  const second = step.second === null ? null : midiOf(step.second);
  const lower = second !== null && second < midiOf(step.name) ? [second] : [];
  return {
    atTicks,
    lengthTicks,
    midi: midiOf(step.name),
    name: step.name,
    tiedOn: false,
    place: null,
    ornaments: step.ornaments,
    chord: lower,
  };
}

const EMPTY_BAR: WrittenBar = {
  notes: [],
  chords: [],
  lengthTicks: 0,
  metre: null,
  closed: true,
  part: null,
  repeatFrom: 0,
  repeatTo: 0,
  ending: null,
  doubleBar: false,
  segno: false,
  coda: false,
  toCoda: false,
  fine: false,
  jump: null,
};

const anySteps = fc.array(anyStep, { minLength: 9, maxLength: 9 });

const anyStrain = fc.record({
  bars: fc.array(anySteps, { minLength: 2, maxLength: 5 }),
  upbeat: fc.option(anySteps),
  form: fc.constantFrom("once", "twice", "three times", "two endings", "endings 1,3 and 2"),
});
type Strain = typeof anyStrain extends fc.Arbitrary<infer T> ? T : never;

/** Bars of a strain with their repeat signs. */
function barsOf({ bars, upbeat, form }: Strain, metre: Metre, fills: typeof FILLS): WrittenBar[] {
  const quavers = (metre.beats * 8) / metre.unit;
  // Endings need something they end.
  const ends = form.includes("ending") && bars.length > 2;
  const written = bars.map((steps, at) =>
    barOf(at === bars.length - 1 && upbeat && !ends ? quavers - 1 : quavers, metre, steps, fills),
  );
  if (upbeat) written.unshift(barOf(1, metre, upbeat, fills));
  return written.map((bar, at) => {
    const last = at === written.length - 1;
    const first = at === written.length - 2;
    if (form === "once") return { ...bar, doubleBar: last };
    const repeatFrom = at === 0 ? (form === "three times" ? 3 : 2) : 0;
    if (!ends) return { ...bar, repeatFrom, repeatTo: last ? (form === "three times" ? 3 : 2) : 0 };
    const numbers = form === "two endings" ? [[1], [2]] : [[1, 3], [2]];
    const ending = first ? (numbers[0] ?? null) : last ? (numbers[1] ?? null) : null;
    return { ...bar, repeatFrom, ending, repeatTo: first ? 2 : 0, doubleBar: last };
  });
}

/** Ties where the next sounding note in the same bar follows at once: the next takes the pitch of the one before. */
function withTies(bar: WrittenBar, tied: readonly boolean[]): WrittenBar {
  const notes: WrittenNote[] = [];
  for (const [at, note] of bar.notes.entries()) {
    const before = notes.at(-1);
    if (before?.tiedOn === true) {
      notes.push({ ...note, name: before.name, midi: before.midi, chord: before.chord, ornaments: [] });
      continue;
    }
    const follows = bar.notes[at + 1]?.atTicks === note.atTicks + note.lengthTicks;
    notes.push({ ...note, tiedOn: follows && (tied[at] ?? false) });
  }
  return { ...bar, notes };
}

const tunesOf = (fills: typeof FILLS): fc.Arbitrary<Tune> =>
  fc
    .record({
      key: anyKey,
      metre: fc.constantFrom(...metres),
      strains: fc.array(anyStrain, { minLength: 1, maxLength: 3 }),
      tied: fc.array(fc.constantFrom(true, false, false), { minLength: 9, maxLength: 9 }),
      fast: fc.integer({ min: 40, max: 200 }),
    })
    .map(({ key, metre, strains, tied, fast }) => {
      const bars = strains
        .flatMap((strain) => barsOf(strain, metre, fills))
        .map((bar) => withTies(bar, tied));
      const played = playOut({ bars, partOrder: null }, { bars: 1000, notes: 10_000 });
      if (played.kind !== "played") throw new Error("the generated tune is too long");
      return {
        number: 1,
        title: "Tune of Chance",
        otherTitles: [],
        fields: [],
        dance: null,
        rhythm: null,
        metre,
        key: fifthsOfKey(key.tonic, key.mode ?? "major") === null ? keyOfFifths(0, "major", true) : key,
        tempo: { noteValue: metre.unit === 8 ? "3/8" : USUAL_TEMPI.polka.noteValue, bpm: bpm(fast) },
        tempoFrom: "tune",
        bars: played.bars,
        notes: played.notes,
        chords: played.chords,
        remarks: [],
      };
    });

/** Tunes as a reader gives them: one to three strains, repeats played out, ties joined. */
export const anyTune = tunesOf(FILLS);
/** Without demisemiquavers and fives. */
export const anyPlainTune = tunesOf(PLAIN_FILLS);

/** A tune of these bars, for cases written by hand. */
export function tuneOf(bars: readonly Partial<WrittenBar>[], rest: Partial<Tune> = {}): Tune {
  const metre = rest.metre === undefined ? { beats: 4, unit: 4 } : rest.metre;
  const whole = metre === null ? TICKS_PER_SEMIBREVE : metreTicks(metre);
  const written = bars.map((bar) => ({ ...EMPTY_BAR, lengthTicks: whole, metre, ...bar }));
  const played = playOut({ bars: written, partOrder: null }, { bars: 1000, notes: 10_000 });
  if (played.kind !== "played") throw new Error("the tune is too long");
  return {
    number: 1,
    title: "Tune by Hand",
    otherTitles: [],
    fields: [],
    dance: null,
    rhythm: null,
    metre,
    key: keyOfFifths(0, "major", true),
    tempo: { noteValue: "1/4", bpm: bpm(120) },
    tempoFrom: "neither",
    bars: played.bars,
    notes: played.notes,
    chords: played.chords,
    remarks: [],
    ...rest,
  };
}

/** Notes in a row, "F#4" or "z" for a rest, each with its length in quavers. */
export function notesOf(...steps: readonly (readonly [string, number])[]): WrittenNote[] {
  let at = 0;
  return steps.flatMap(([name, quavers]) => {
    const atTicks = Math.round(at * QUAVER);
    at += quavers;
    if (name === "z") return [];
    const plain: Step = { pick: 0, name, ornaments: [], tied: false, second: null, symbol: null };
    return [noteOf(plain, atTicks, Math.round(quavers * QUAVER))];
  });
}

/** What of a tune every format must keep: its notes as they sound and its bars. */
export function musicOf(tune: Tune) {
  return {
    bars: tune.bars.map(({ startTicks, lengthTicks, metre, kind, strain }) => ({
      startTicks,
      lengthTicks,
      metre,
      kind,
      strain,
    })),
    notes: tune.notes.map((note) => soundOf(note)),
    chords: tune.chords.map(({ atTicks, symbol }: ChordAt) => ({ atTicks, symbol })),
  };
}

function soundOf({ startTicks, lengthTicks, midi: pitch, name, bar, ornaments, chord }: TuneNote) {
  return { startTicks, lengthTicks, midi: pitch, name, bar, ornaments, chord: chord ?? [] };
}
