import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { readExercise } from "../../core/exercise/exercise-json.ts";
import { plainEnvironment, runScript } from "./run-program.ts";
import { within } from "./within.ts";

const ROOT = path.join(import.meta.dirname, "..", "..");
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-drills-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The command in this process: the same code, without starting a program for each case. */
const exercise = (...options: readonly string[]) => within("exercise", ...options);

async function made(...options: readonly string[]): Promise<Exercise> {
  const { status, stdout, stderr } = await exercise(...options);
  expect(stderr).toBe("");
  expect(status).toBe(0);
  const read = readExercise(stdout);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read.exercise;
}

const tabs = (one: Exercise) => one.notes.map((note) => note.tab).join(" ");

describe("the exercise command", () => {
  test.each([
    [["--kind", "scale", "--octaves", "plain", "--dance", "hornpipe"], /scale, the whole plain range/],
    [["--kind", "arpeggio", "--degree", "5", "--chord", "seventh"], /^V7 arpeggio of C major/],
    [["--kind", "progression", "--numerals", "ii-V7-I", "--figure", "up-and-back"], /^ii-V7-I in C major/],
    [["--kind", "progression", "--position", "2"], /^I-VII-IV-I in G mixolydian/],
    [["--kind", "backing", "--dance", "waltz", "--chords", "C-G7-Am-F"], /^C-G7-Am-F in C major, backing/],
    [["--kind", "backing", "--position", "2"], /^G-F-C-G in G mixolydian, backing/],
    [["--kind", "pattern", "--figure", "1-2-3-5", "--dance", "reel"], /^C major in 1-2-3-5/],
    [
      ["--kind", "bend", "--figure", "ladder", "--hole", "3", "--target", "hidden"],
      /^3 draw, bent 3 semitones/,
    ],
    [["--kind", "bend", "--technique", "overblow", "--overbends", "4 6", "--hole", "6"], /^6 overblow/],
    [
      ["--kind", "breath-pair", "--first", "4", "--second", "-3''", "--rounds", "1 2 4"],
      /^4 blow .* 3 draw, bent 2/,
    ],
    [["--kind", "hole-jumps", "--jump", "3", "--breath", "alternate"], /^Jumps of 3 holes/],
    [["--kind", "one-breath", "--breath", "draw", "--tempo", "120"], /on one breath in/],
    [["--kind", "long-tones", "--tone", "8", "--rest", "8", "--beats-per-bar", "8"], /^Long tones/],
    [["--kind", "random-notes", "--target-as", "heard", "--count", "8"], /^Random notes by ear/],
  ])("%j makes its drill", async (options, title) => {
    const one = await made(...options);
    expect(one.title).toMatch(title);
    expect(one.kind).toBe(options[1]);
    expect(one.trains).not.toBe("");
  });

  test("a dance brings its metre, its notes to the beat, its accents and its tempo; what is said beside it counts", async () => {
    const jig = await made("--kind", "scale", "--dance", "jig");
    // Trade facts 6: double jig in 6/8, dotted crotchet 116-124.
    expect(jig.tempo).toEqual({ bpm: 116, noteValue: "3/8" });
    expect(jig.beatsPerBar).toBe(2);
    expect(jig.notes.slice(0, 4).map((note) => note.accent === true)).toEqual([true, false, false, true]);
    const slow = await made("--kind", "scale", "--dance", "jig", "--tempo", "60", "--rhythm", "dotted");
    expect(slow.tempo.bpm).toBe(60);
    expect(slow.rhythm).toEqual({ kind: "dotted" });
  });

  test("the same seed gives the same random notes, another seed others", async () => {
    const random = ["--kind", "random-notes", "--count", "24", "--seed"];
    expect(tabs(await made(...random, "5"))).toBe(tabs(await made(...random, "5")));
    expect(tabs(await made(...random, "5"))).not.toBe(tabs(await made(...random, "6")));
  });

  test("any set of degrees is drilled, whatever the order it is typed in", async () => {
    const one = await made("--degrees", "b7,1 2 b3 4 5 6", "--position", "2");
    expect(one.mode).toBe("1 2 b3 4 5 6 b7");
    expect(one.notes.slice(0, 8).map((note) => note.degree)).toEqual("1 2 b3 4 5 6 b7 1".split(" "));
    expect((await made("--mode", "1 2 b3 4 5 6 b7", "--position", "2")).notes).toEqual(one.notes);
  });

  test("a player's own cents for each reed are what the drill asks for, and what the other commands reckon with", async () => {
    const holes = Array.from({ length: 10 }, () => ({ blow: 0, draw: 0 }));
    holes[3] = { blow: 3, draw: -4 };
    holes[5] = { blow: 0, draw: 7 };
    const file = path.join(folder, "own-cents.json");
    writeFileSync(file, JSON.stringify({ schema: "reedpath.reed-cents", version: 1, holes }));
    const scale = await made("--temperament", file, "--direction", "up");
    const cents = new Map(scale.notes.map((note) => [note.tab, note.targetCents as number]));
    expect([cents.get("4"), cents.get("-4"), cents.get("5")]).toEqual([3, -4, 0]);
    // 3 draw bent a tone is A4, and agrees with the only plain A near it, 6 draw: as DEVELOPERS.md says of bends.
    const bend = await made("--temperament", file, "--kind", "bend", "--hole", "3", "--bent", "2");
    expect(bend.notes[0]?.targetCents).toBe(7);
    const chords = JSON.parse((await within("chords", "--temperament", file)).stdout);
    const octave = chords.splitOctaves.find(
      (one: { breath: string; holes: number[] }) => one.breath === "blow" && one.holes.join() === "1,4",
    );
    // [calc] C4 and a C5 3 cents sharp: 2 · 261.626 · (2^(3/1200) - 1) = 0.91 beats a second
    expect(octave.intervals[0].beatsPerSecond).toBeCloseTo(0.91, 2);
    const positions = JSON.parse((await within("positions", "--temperament", file)).stdout);
    expect(positions.harp.temperament.holes[3]).toEqual({ blow: 3, draw: -4 });
    writeFileSync(file, JSON.stringify({ schema: "reedpath.reed-cents", version: 1, holes: holes.slice(2) }));
    const { status, stderr } = await exercise("--temperament", file);
    expect([status, stderr]).toEqual([
      2,
      expect.stringMatching(/own-cents\.json: holes: there are 8; .* has 10\n$/),
    ]);
  });

  test("breath work carries its caution", async () => {
    const one = await made("--kind", "hole-jumps", "--jump", "2");
    expect(one.caution).toMatch(/Stop and rest if you feel light-headed/); // trade facts 11
  });

  test.each([
    [["--kind", "whistling"], /--kind must be one of scale, arpeggio, .*random-notes, not "whistling"/],
    [["--kind", "scale", "--jump", "3"], /--jump does not go with --kind scale, which takes --octaves/],
    [["--kind", "breath-pair", "--first", "4"], /--second is missing/],
    [["--kind", "breath-pair", "--first", "four", "--second", "-4"], /--first must be a hole in tab/],
    [
      ["--kind", "breath-pair", "--first", "4", "--second", "-4", "--rounds", "5"],
      /--rounds must be notes to the beat/,
    ],
    [["--kind", "breath-pair", "--first", "4", "--second", "-12"], /12 draw cannot be sounded on a C harp/],
    [["--kind", "progression", "--numerals", "I-V-I", "--position", "2"], /is v, not V/],
    [["--kind", "progression", "--mode", "locrian", "--position", "6"], /--numerals is missing/],
    [["--kind", "pattern", "--figure", "zigzag"], /--figure must be one of thirds, /],
    [["--kind", "bend", "--hole", "5"], /there is no bend of hole 5 on a C harp/],
    [["--kind", "bend", "--bends", "no"], /without bends/],
    [["--kind", "hole-jumps", "--jump", "5"], /--jump must be a whole number from 1 to 4/],
    [["--octaves", "three"], /--octaves must be a whole number from 1 to 2, or "plain"/],
    [["--notes-per-beat", "5"], /--notes-per-beat must be one of 1, 2, 3, 4, 6/],
    [["--swing", "2", "--rhythm", "dotted"], /--swing goes with --rhythm swung/],
    [["--swing", "9", "--notes-per-beat", "2"], /--swing must be a number from 1 to 4/],
    [["--dance", "reel", "--tempo", "200"], /notes would last 75 ms/], // [calc] 60/200/4 s
    [["--dance", "disco"], /--dance must be one of reel, /],
    [["--degrees", "1 2 h3"], /--degrees: "h3" is not a degree; degrees are 1 to 7/],
    [["--degrees", "1 b3 #2"], /--degrees: "b3" and "#2" are the same note/],
    [["--degrees", ""], /--degrees: there is no degree in it/],
    [["--mode", "1 2 9"], /--mode "9" is not a degree/],
    [["--mode", "major", "--degrees", "1 2"], /--mode and --degrees both say which notes/],
    [["--position", "9"], /9th position has no natural mode: say --mode, one of major, .* or --degrees/],
    [["--temperament", "nowhere.json"], /nowhere\.json: there is no such file/],
    [["--from-degree", "b6"], /C major has no degree "b6"/],
    [["--bends", "often"], /--bends must be yes, no or hole numbers/],
  ])("%j is refused in one line", async (options, reason) => {
    const { status, stdout, stderr } = await exercise(...options);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(reason);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(stderr).not.toMatch(/did not expect/);
  });

  test("the built command prints a drill, plays it without a fault and finds none", async () => {
    const reedpath = async (...args: readonly string[]) => {
      const options = { cwd: folder, env: plainEnvironment() };
      const running = runScript(path.join(ROOT, "electron", "reedpath.mjs"), args, options);
      expect(await running.ended).toBe(0);
      return running.stdout();
    };
    for (const options of [
      ["--kind", "pattern", "--figure", "turns", "--dance", "jig"],
      ["--kind", "breath-pair", "--first", "4", "--second", "-5", "--rounds", "1 2 4", "--round-beats", "4"],
      ["--kind", "scale", "--dance", "hornpipe"],
      ["--kind", "bend", "--figure", "from-above", "--hole", "2", "--bent", "2"],
    ]) {
      writeFileSync(path.join(folder, "drill.json"), await reedpath("exercise", ...options));
      await reedpath("render", "drill.json", "drill.wav", "--seed", "3");
      const attempt = JSON.parse(await reedpath("score", "drill.json", "drill.wav"));
      expect(attempt.marks.length).toBeGreaterThan(7);
      expect(attempt.faults).toEqual([]);
    }
  });
});

describe("backing on the command line", () => {
  test("takes the chords, the beat and the bar of a tune", async () => {
    const file = path.join(folder, "jig.abc");
    writeFileSync(file, 'X:3\nT:Four Chords\nR:jig\nM:6/8\nL:1/8\nK:G\n"G"G3 B3|"C"c3 e3|"D7"d3 f3|"G"g6|\n');
    const one = await made(
      "--kind",
      "backing",
      "--key",
      "G",
      "--tune",
      file,
      "--number",
      "3",
      "--repeats",
      "1",
    );
    // [calc] 6/8 is felt in two dotted crotchets, and each bar has one chord.
    expect(one.parameters.chords).toBe("G:2 C:2 D7:2 G:2");
    expect([one.tempo.noteValue, one.beatsPerBar]).toEqual(["3/8", 2]);
    // [P] a jig is backed long and short: two strokes to the beat.
    const names = ["G", "C", "D7", "G"].flatMap((name) => [name, name, name, name]);
    expect(one.notes.map(({ chord }) => chord?.name)).toEqual(names);
  });

  test("is rendered, and marked with a wrong chord told", async () => {
    const [file, wav, plant] = ["backing.json", "backing.wav", "plant.json"].map((name) =>
      path.join(folder, name),
    );
    const printed = await exercise("--kind", "backing", "--chords", "I-V", "--repeats", "1");
    writeFileSync(file ?? "", printed.stdout);
    const faults = [{ kind: "wrong", index: 1 }];
    writeFileSync(plant ?? "", JSON.stringify({ schema: "reedpath.plant", version: 1, faults }));
    expect((await within("render", file ?? "", wav ?? "", "--plant", plant ?? "")).stderr).toBe("");
    const { stdout } = await within("score", file ?? "", wav ?? "");
    const { summary, marks } = JSON.parse(stdout);
    // [calc] two bars of four strokes, one of them a hole too high: [F 1] blow 2-4 instead of 1-3.
    expect(summary.notes).toMatchObject({ expected: 8, hit: 7, wrong: 1 });
    expect([marks[1].heardAs, marks[1].diagnosis.kind]).toEqual([["234"], "neighbour hole"]);
  });

  test.each([
    [["--chords", "I-IV", "--tune", "x.abc"], /--tune brings its own chords/],
    [["--tune", "nowhere.abc"], /nowhere\.abc/],
    [["--chords", "C-Gxyz"], /"Gxyz" is not the symbol of a chord/],
    [["--most-holes", "5"], /--most-holes/],
    [["--strokes", "often"], /--strokes/],
    [["--chords", "C-F", "--partial", "no"], /has no F on up to 3 neighbouring holes/],
  ])("%j is refused in one line", async (options, reason) => {
    const { status, stderr } = await exercise("--kind", "backing", ...options);
    expect([status, stderr.trim().split("\n").length]).toEqual([2, 1]);
    expect(stderr).toMatch(reason);
  });
});
