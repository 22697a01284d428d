import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { hearChords } from "../../../core/listen/chords/hear-chords.ts";
import { throughRoom } from "../listen/corpus/room.ts";
import { installedSoundFonts, type SoundFont } from "../listen/corpus/soundfont.ts";
import { harpTable } from "../marks/harp-table.ts";
import { type ChordTake, chordTake, withNoise } from "./chords/chord-take.ts";
import {
  type Counted,
  countChords,
  intervalsOf,
  type Outcome,
  type TakeCount,
} from "./chords/count-chords.ts";
import { fontTuning } from "./chords/font-reeds.ts";
import type { BenchOptions, BenchSection } from "./section.ts";

/** Both have a recorded harmonica; Debian's fluid-soundfont-gm and timgm6mb-soundfont. */
const FONTS = /^(FluidR3_GM|TimGM6mb)$/;
const LAYOUTS = [
  "standard",
  "country",
  "raised-third-blow",
  "raised-third-blow-with-raised-fourths",
  "natural-minor-second-position",
  "harmonic-minor",
  "dorian-second-position",
  "circular-from-the-key",
  "diminished",
];
/** Two of its holes are in unison: no ear tells which of them sounds. */
const WITH_UNISONS = "solo-10";
/** Key notes from low C to F#. */
const KEY_NOTES = [48, 50, 53, 55, 57, 58, 60, 62, 64, 66];
const SNR_DB = 20;
/** As the bench of marks has it. */
const RT60_SECONDS = 0.4;
/** Others than those that thresholds were adjusted on, 1 to 20. */
const USUAL_SEEDS = [101, 102, 103];

interface Condition {
  readonly name: string;
  readonly of: (take: ChordTake, seed: number) => ChordTake;
}

const CONDITIONS: readonly Condition[] = [
  { name: "clean", of: (take) => take },
  { name: `noise ${SNR_DB} dB below`, of: (take, seed) => withNoise(take, SNR_DB, seed) },
  { name: `a room that rings for ${RT60_SECONDS} s`, of: inRoom },
];

function inRoom(take: ChordTake, seed: number): ChordTake {
  const dry = Float64Array.from(take.samples);
  return {
    ...take,
    samples: Float32Array.from(throughRoom(dry, RT60_SECONDS, gaussian(seededRandom(seed)))),
  };
}

/** All chords of two and three neighbouring holes, as FluidSynth plays them, and what is heard of them. */
export const CHORDS: BenchSection = {
  name: "chords",
  run: ({ seeds }: BenchOptions) => {
    const fonts = installedSoundFonts().filter(({ name }) => FONTS.test(name));
    if (fonts.length === 0) throw new Error("fluid-soundfont-gm or timgm6mb-soundfont is not installed");
    const own = seeds ?? USUAL_SEEDS;
    return [
      `seeds ${own.join(" ")}; ${LAYOUTS.length} layouts, key notes ${KEY_NOTES[0]} to ${KEY_NOTES.at(-1)}; right: breath and holes exactly, of two in unison either`,
      ...fonts.flatMap((font) => ofFont(font, own)),
    ];
  },
};

function ofFont(font: SoundFont, seeds: readonly number[]): readonly string[] {
  const tuning = fontTuning(font.file);
  const take = (layoutId: string, seed: number, place: number) =>
    chordTake({
      seed: 100 * seed + place,
      layoutId,
      keyNote: KEY_NOTES[(seed + 3 * place) % KEY_NOTES.length] ?? 60,
      soundFont: font.file,
      tuning,
      sizes: [2, 3],
    });
  const takes = seeds.flatMap((seed) => LAYOUTS.map((layoutId, place) => take(layoutId, seed, place)));
  const unisons = seeds.map((seed) => take(WITH_UNISONS, seed, LAYOUTS.length));
  return CONDITIONS.flatMap(({ name, of }) => {
    const counted = takes.map((one, place) => listenTo(of(one, place)));
    const solo = unisons.map((one, place) => listenTo(of(one, place)));
    return [
      "",
      `${font.name}, ${name}`,
      `  ${inWords(counted)}`,
      ...byIntervals(counted.flatMap(({ chords }) => chords)),
      `  solo layout, apart (holes 4 and 5 in unison): ${inWords(solo)}`,
    ];
  });
}

function listenTo(take: ChordTake): TakeCount {
  const table = harpTable(take.layoutId);
  const reeds = (["blow", "draw"] as const).flatMap((breath) =>
    table[breath].map((sounds, place) => ({ hole: place + 1, breath, midi: take.keyNote + sounds })),
  );
  return countChords(take, hearChords(take.samples, take.sampleRateHz, reeds));
}

function inWords(counts: readonly TakeCount[]): string {
  const chords = counts.flatMap((one) => one.chords);
  const of = (outcome: Outcome) => chords.filter((one) => one.outcome === outcome).length;
  const tooMany = counts.reduce((sum, one) => sum + one.tooMany, 0);
  const onsets = chords.flatMap(({ onsetMs }) => (onsetMs === null ? [] : [onsetMs])).sort((a, b) => a - b);
  const at = (share: number) => (onsets[Math.round(share * (onsets.length - 1))] ?? 0).toFixed(1);
  const right = ((100 * of("right")) / chords.length).toFixed(2);
  return [
    `${right} % of ${chords.length} right; ${of("wrong")} wrong, ${of("not sure")} not sure, ${of("missed")} missed, ${tooMany} too many`,
    `begins at (median, 5 to 95 %): ${at(0.5)} ms, ${at(0.05)} to ${at(0.95)}`,
  ].join("; ");
}

/** Lines for those intervals that something was amiss with. */
function byIntervals(chords: readonly Counted[]): readonly string[] {
  const names = [...new Set(chords.map(({ played }) => intervalsOf(played)))].sort();
  return names.flatMap((name) => {
    const own = chords.filter(({ played }) => intervalsOf(played) === name);
    const of = (outcome: Outcome) => own.filter((one) => one.outcome === outcome).length;
    if (of("right") === own.length) return [];
    return [
      `    ${name.padEnd(6)} semitones: ${own.length} played, ${of("wrong")} wrong, ${of("not sure")} not sure, ${of("missed")} missed`,
    ];
  });
}
