import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { describe, expect, test } from "vitest";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { decodeText } from "../../core/tune/abc/decode-text.ts";
import { readAbc, readAbcTune } from "../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../core/tune/abc/split-abc.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../core/tune/tune.ts";
import { DIFFERENCES, EXAMPLE_DIFFERENCES } from "./abc-differences.ts";
import { playedByAbc2midi, type Sounding } from "./abc2midi-playing.ts";
import { type MadeAbc, madeAbc, type Special } from "./made-abc.ts";
import { hasTool } from "./tools.ts";

const TICKS_A_QUAVER = TICKS_PER_SEMIBREVE / 8;
/** In quavers: a hundredth of a demisemiquaver's worth more than abc2midi's grid of 240 ticks a quaver and its 2 ticks' delay. */
const TOLERANCE = 0.02;

function playedByUs(tune: Tune): readonly Sounding[] {
  return tune.notes.map(({ midi, chord = [], startTicks, lengthTicks }) => ({
    keys: [...chord, midi],
    onset: startTicks / TICKS_A_QUAVER,
    length: lengthTicks / TICKS_A_QUAVER,
  }));
}

function isSame(our: Sounding | undefined, their: Sounding | undefined): boolean {
  if (our === undefined || their === undefined) return false;
  const ends = Math.abs(our.onset + our.length - their.onset - their.length);
  return (
    our.keys.join() === their.keys.join() && Math.abs(our.onset - their.onset) < TOLERANCE && ends < TOLERANCE
  );
}

/** The first note that differs, in words; null where all are the same in pitch, onset and length. */
function firstDifference(ours: readonly Sounding[], theirs: readonly Sounding[]): string | null {
  for (let at = 0; at < Math.max(ours.length, theirs.length); at++) {
    if (isSame(ours[at], theirs[at])) continue;
    return `note ${at}: ${JSON.stringify(ours[at])} here, ${JSON.stringify(theirs[at])} there`;
  }
  return null;
}

function compare({ abc }: MadeAbc, number: number): string | null {
  const read = readAbc(abc);
  if (read.kind === "unreadable") return read.reason;
  const [tune] = read.tunes;
  if (tune === undefined) return read.bad.map(({ reason }) => reason).join();
  return firstDifference(playedByUs(tune), playedByAbc2midi(abc, number)[0] ?? []);
}

const SEED = 1903;
const ALIKE = 160;
const OF_EACH_SPECIAL = 4;
const specials = Object.keys(DIFFERENCES) as readonly Special[];

describe.skipIf(!hasTool("abc2midi"))("ABC as abc2midi 4.84 plays it", () => {
  test(`${ALIKE} made tunes have the same pitches, onsets and lengths`, () => {
    const random = seededRandom(SEED);
    const made = Array.from({ length: ALIKE }, (_, index) => madeAbc(random, index + 1, null));
    const differing = made.flatMap((one, index) => {
      const difference = compare(one, index + 1);
      return difference === null ? [] : [`${one.abc}\n${difference}`];
    });
    expect(differing).toEqual([]);
  });

  test.each(specials)("the listed difference is still one: %s", (special) => {
    const random = seededRandom(SEED + specials.indexOf(special));
    const made = Array.from({ length: OF_EACH_SPECIAL }, (_, index) => madeAbc(random, index + 1, special));
    const alike = made.filter((one, index) => compare(one, index + 1) === null);
    expect(alike.map(({ abc }) => abc)).toEqual([]);
  });

  test("its own examples are read alike, or the difference is listed", () => {
    const files = spawnSync("dpkg", ["-L", "abcmidi"], { encoding: "utf8" })
      .stdout.split("\n")
      .filter((path) => path.endsWith(".abc"));
    // [X] Debian abcmidi 20230208: 10 example files.
    expect(files).toHaveLength(10);
    const differing = files.flatMap(examplesOf);
    const unlisted = differing.filter(({ name, pitchesToo }) => {
      const listed = EXAMPLE_DIFFERENCES[name];
      return listed === undefined || (listed.timesOnly && pitchesToo);
    });
    expect(unlisted).toEqual([]);
    expect(differing.map(({ name }) => name).sort()).toEqual(Object.keys(EXAMPLE_DIFFERENCES).sort());
  });
});

interface ExampleRead {
  readonly name: string;
  readonly difference: string;
  readonly pitchesToo: boolean;
}

/** The tunes of a file that are read otherwise. */
function examplesOf(path: string): readonly ExampleRead[] {
  const pieces = splitAbc(decodeText(readFileSync(path)));
  if (pieces.kind === "unreadable") {
    return [{ name: basename(path), difference: pieces.reason, pitchesToo: true }];
  }
  return pieces.tunes.flatMap((piece) => {
    const read = readAbcTune(pieces.header, piece);
    const number = read.kind === "tune" ? read.tune.number : (read.bad.number ?? piece.place);
    const name = `${basename(path)} ${number}`;
    if (read.kind === "bad") return [{ name, difference: read.bad.reason, pitchesToo: true }];
    const ours = playedByUs(read.tune);
    const theirs = playedByAbc2midi(piece.text, number)[0] ?? [];
    const difference = firstDifference(ours, theirs);
    const pitches = (played: readonly Sounding[]) => played.map(({ keys }) => keys.join()).join(" ");
    return difference === null ? [] : [{ name, difference, pitchesToo: pitches(ours) !== pitches(theirs) }];
  });
}
