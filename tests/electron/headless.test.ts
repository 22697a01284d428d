import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { reedpathIn } from "./run-program.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-headless-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const reedpath = reedpathIn(() => folder);

async function jsonOf(...args: readonly string[]) {
  const { status, stdout, stderr } = await reedpath(...args);
  expect(stderr).toBe("");
  expect(status).toBe(0);
  return JSON.parse(stdout);
}

async function makeExercise(name: string, ...options: readonly string[]): Promise<string> {
  const { stdout, stderr } = await reedpath("exercise", ...options);
  expect(stderr).toBe("");
  writeFileSync(path.join(folder, name), stdout);
  return name;
}

const USUAL = [
  "--layout",
  "standard",
  "--key",
  "G",
  "--position",
  "2",
  "--kind",
  "scale",
  "--mode",
  "mixolydian",
];

describe("exercise, render and score, one after the other", () => {
  test.each([
    ["90 crotchets", ["--octaves", "1", "--tempo", "90"], 48_000, 1],
    ["180 crotchets at 44.1 kHz", ["--octaves", "2", "--tempo", "180"], 44_100, 2],
    [
      "quavers at 120 on a 96 kHz recording",
      ["--octaves", "1", "--tempo", "120", "--notes-per-beat", "2"],
      96_000,
      3,
    ],
    ["30 crotchets", ["--octaves", "1", "--tempo", "30", "--direction", "up"], 48_000, 4],
    ["240 crotchets", ["--octaves", "2", "--tempo", "240", "--start", "lowest"], 48_000, 5],
  ])("a perfect render at %s is all hit, within 1 cent and 5 ms", async (_, options, rate, seed) => {
    const exercise = await makeExercise(`perfect-${seed}.json`, ...USUAL, ...options);
    await jsonOf("render", exercise, `perfect-${seed}.wav`, "--seed", String(seed), "--rate", String(rate));
    const attempt: Attempt = await jsonOf("score", exercise, `perfect-${seed}.wav`);
    expect(attempt.marks.every((mark) => mark.verdict === "hit")).toBe(true);
    expect(attempt.extras).toEqual([]);
    expect(attempt.faults).toEqual([]);
    expect(Math.abs(Number(attempt.summary.intonation.biasCents))).toBeLessThanOrEqual(1);
    expect(Math.abs(Number(attempt.summary.timing.biasMs))).toBeLessThanOrEqual(5);
  });

  test.each([
    ["G", 2, "mixolydian", 1, 90],
    ["C", 1, "major", 2, 120],
    ["A", 3, "dorian", 3, 70],
    ["F#", 2, "mixolydian", 4, 150],
  ] as const)(
    "five mistakes planted on a %s harp in position %d are reported as exactly those five",
    async (key, position, mode, seed, tempo) => {
      const exercise = await makeExercise(
        `five-${seed}.json`,
        "--key",
        key,
        "--position",
        String(position),
        "--mode",
        mode,
        "--tempo",
        String(tempo),
      );
      const faults = [
        { kind: "wrong", index: 2 },
        { kind: "missed", index: 5 },
        { kind: "extra", index: 8 },
        { kind: "pitch", index: 10, offsetCents: -30 },
        { kind: "time", index: 12, offsetMs: 60 },
      ];
      writeFileSync(
        path.join(folder, "plant.json"),
        JSON.stringify({ schema: "reedpath.plant", version: 1, faults }),
      );
      const truth = await jsonOf(
        "render",
        exercise,
        `five-${seed}.wav`,
        "--seed",
        String(seed),
        "--plant",
        "plant.json",
      );
      expect(truth.faults).toHaveLength(5);
      const attempt: Attempt = await jsonOf("score", exercise, `five-${seed}.wav`);
      expect(attempt.faults.map((fault) => [fault.kind, fault.index])).toEqual([
        ["wrong", 2],
        ["missed", 5],
        ["extra", 8],
        ["flat", 10],
        ["late", 12],
      ]);
      expect(attempt.marks[2]?.heardMidi).toBe(truth.faults[0].midi);
      expect(attempt.extras[0]?.heardMidi).toBe(truth.faults[2].midi);
      expect(Math.abs(Number(attempt.marks[10]?.cents) + 30)).toBeLessThan(1); // a tenth of what is marked in tune
      expect(Math.abs(Number(attempt.marks[12]?.ms) - 60)).toBeLessThan(8); // about one just noticeable step [F 34]
    },
  );

  test("a take played 100 ms behind the recorder is put right by its latency", async () => {
    const exercise = await makeExercise("late.json", ...USUAL, "--tempo", "90");
    await jsonOf("render", exercise, "late.wav");
    const attempt: Attempt = await jsonOf("score", exercise, "late.wav", "--latency-ms", "-100");
    expect(Number(attempt.summary.timing.biasMs)).toBeGreaterThan(95); // [calc] 100 ms, within the 5 ms of a perfect render
    expect(Number(attempt.summary.timing.biasMs)).toBeLessThan(105);
  });

  test("a take may be marked without a beat", async () => {
    const exercise = await makeExercise("own-pace.json", ...USUAL, "--tempo", "120");
    await jsonOf("render", exercise, "own-pace.wav");
    const attempt: Attempt = await jsonOf("score", exercise, "own-pace.wav", "--way", "own-pace");
    expect(attempt.way).toBe("own pace");
    expect(attempt.marks.every((mark) => mark.verdict === "hit" && mark.ms === null)).toBe(true);
    expect(attempt.summary.timing.tempoRatio).toBeCloseTo(1, 2);
  });

  test("a take may be marked as if the harp were tuned otherwise, and its marks printed as a table", async () => {
    const exercise = await makeExercise("tuned.json", ...USUAL, "--tempo", "120");
    await jsonOf("render", exercise, "tuned.wav");
    const options = ["--a4", "444", "--temperament", "just-first-position"];
    const attempt: Attempt = await jsonOf("score", exercise, "tuned.wav", ...options);
    // [calc] D of a G harp is 3/2, 1.96 cents above equal; 1200 log2(444/440) = 15.67: -17.62 to a cent of a perfect render.
    expect(Math.abs(Number(attempt.marks[0]?.cents) + 17.62)).toBeLessThan(1);
    const { stdout, stderr, status } = await reedpath(
      "score",
      exercise,
      "tuned.wav",
      ...options,
      "--as",
      "csv",
    );
    expect([stderr, status]).toEqual(["", 0]);
    const [head, ...rows] = stdout.trimEnd().split("\r\n");
    expect(head).toMatch(/^note,bar,beat,asked,reed,mark,heard,off target \(cents; sharp \+\),/);
    expect(rows).toHaveLength(15);
    expect(Number(rows[0]?.split(",")[7])).toBeCloseTo(Number(attempt.marks[0]?.cents), 1);
  });

  test("listen prints frames and notes as its readers expect them", async () => {
    const exercise = await makeExercise("listen.json", ...USUAL);
    const truth = await jsonOf("render", exercise, "listen.wav");
    const heard = await jsonOf("listen", "listen.wav");
    expect(Object.keys(heard).sort()).toEqual(["frames", "latencyMs", "notes"]);
    expect(Object.keys(heard.frames[0]).sort()).toEqual(["clarity", "f0", "t"]);
    expect(heard.notes.map((note: { midi: number }) => note.midi)).toEqual(
      truth.notes.map((note: { midi: number }) => note.midi),
    );
    expect(heard.latencyMs).toBeGreaterThan(0);
    expect(heard.frames.some((frame: { f0: number }) => frame.f0 <= 0)).toBe(true);
    // The harp in hand, told, moves no note.
    const informed = await jsonOf("listen", "listen.wav", "--key", "G");
    expect(informed.frames).toEqual(heard.frames);
    expect(informed.notes.map(({ on, midi, cents }: Record<string, number>) => [on, midi, cents])).toEqual(
      heard.notes.map(({ on, midi, cents }: Record<string, number>) => [on, midi, cents]),
    );
  });

  test("the demonstration shows what was planted beside what was found", async () => {
    const { status, stdout } = await reedpath("demo", "--seed", "5");
    expect(status).toBe(0);
    expect(stdout).toMatch(/note +tab +asked +planted +found/);
    expect(stdout).toMatch(/-30 cents +hit -30 cents.*flat/);
    expect(stdout).toMatch(/missed +missed/);
    expect(stdout).toMatch(/\+60 ms +hit .*late/);
  });
});

/** A WAV header that claims more than there is. */
function wavClaiming(bytes: number, riffBytes: number): Uint8Array {
  const wav = writeWav(new Float32Array(4800).fill(0.1), 48_000, "pcm16");
  const view = new DataView(wav.buffer, wav.byteOffset, wav.byteLength);
  view.setUint32(4, riffBytes, true);
  view.setUint32(40, bytes, true);
  return wav;
}

describe("bad input", () => {
  const files: Readonly<Record<string, Uint8Array | string>> = {
    "text.wav": "these are words, not sound",
    "empty.wav": "",
    "truncated.wav": writeWav(new Float32Array(48_000).fill(0.1), 48_000, "pcm16").slice(0, 20_000),
    "no-samples.wav": writeWav(new Float32Array(0), 48_000, "pcm16"),
    "eight-gigabytes.wav": wavClaiming(0xffff_fff0, 0xffff_ffff),
    "silence.wav": writeWav(new Float32Array(96_000), 48_000, "pcm16"),
    "words.json": "not an exercise",
    "list.json": "[1, 2, 3]",
    "newer.json": '{"schema":"reedpath.exercise","version":99}',
    "half.json": '{"schema":"reedpath.exercise","version":1,"kind":"scale"}',
  };
  beforeAll(async () => {
    for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
    await makeExercise("good.json", ...USUAL);
  });

  test.each([
    [["listen", "text.wav"], /text\.wav: .*not a WAV/i],
    [["listen", "empty.wav"], /empty\.wav: /],
    [["listen", "truncated.wav"], /truncated\.wav: .*truncated/i],
    [["listen", "no-samples.wav"], /no-samples\.wav: .*(no|0) samples/i],
    [["listen", "eight-gigabytes.wav"], /eight-gigabytes\.wav: /],
    [["listen", "silence.wav"], /silence\.wav: only silence/],
    [["listen", "nowhere.wav"], /nowhere\.wav: there is no such file/],
    [["listen", "."], /is a folder/],
    [["listen"], /expected TAKE\.wav/],
    [["listen", "silence.wav", "--key", "H"], /--key "H" is not a key/],
    [["score", "good.json", "silence.wav"], /silence\.wav: only silence/],
    [["score", "good.json", "truncated.wav"], /truncated\.wav: /],
    [["score", "nowhere.json", "silence.wav"], /nowhere\.json: there is no such file/],
    [["score", "words.json", "silence.wav"], /words\.json: not JSON/],
    [["score", "good.json", "silence.wav", "--latency-ms", "soon"], /--latency-ms must be a number from/],
    [["score", "good.json", "silence.wav", "--as", "xml"], /--as must be one of json, csv/],
    [["score", "good.json", "silence.wav", "--a4", "300"], /--a4 must be a number from 400 to 480/],
    [["score", "good.json", "silence.wav", "--temperament", "sour"], /--temperament "sour" is not known/],
    [
      ["score", "good.json", "silence.wav", "--way", "slowly"],
      /--way must be one of in-time, own-pace, hold/,
    ],
    [["render", "list.json", "out.wav"], /list\.json: not an exercise/],
    [["render", "newer.json", "out.wav"], /newer\.json: made by a newer version/],
    [["render", "half.json", "out.wav"], /half\.json: title: /],
    [["render", "good.json", "out.wav", "--plant", "words.json"], /words\.json: not JSON/],
    [["render", "good.json", "out.wav", "--seed", "-1"], /--seed must be a whole number/],
    [["render", "good.json", "no/such/folder/out.wav"], /no\/such\/folder\/out\.wav: there is no such/],
    [["exercise", "--key", "H"], /--key "H" is not a key/],
    [["exercise", "--position", "13"], /--position must be a whole number from 1 to 12/],
    [["exercise", "--position", "8"], /8th position has no natural mode/],
    [["exercise", "--mode", "sour"], /--mode "sour" is not known/],
    [["exercise", "--tempo", "500"], /--tempo must be a number from 30 to 240/],
    [["exercise", "--tempo", ""], /--tempo must be a number/],
    [["exercise", "--octaves", "3"], /--octaves must be a whole number from 1 to 2/],
    [["exercise", "--layout", "moon"], /--layout "moon" is not known/],
    [["exercise", "--position", "1", "--mode", "minor"], /cannot be sounded without overblows/],
    [["exercise", "--colour", "red"], /no option --colour/],
    [["exercise", "extra"], /got extra/],
    [["sing"], /there is no command "sing"/],
    [["constructor"], /there is no command "constructor"/],
  ])("%j is refused in one line, with exit status 2 and nothing written", async (args, reason) => {
    const before = readdirSync(folder).sort();
    const { status, stdout, stderr } = await reedpath(...args);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(reason);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(stderr).not.toMatch(/did not expect/);
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  test("an existing file is not harmed by a render that fails", async () => {
    writeFileSync(path.join(folder, "precious.wav"), "precious");
    await reedpath("render", "list.json", "precious.wav");
    expect(readFileSync(path.join(folder, "precious.wav"), "utf8")).toBe("precious");
  });
});

test("--version says which program this is, as package.json has it", async () => {
  const { version } = JSON.parse(
    readFileSync(path.join(import.meta.dirname, "..", "..", "package.json"), "utf8"),
  );
  expect(await reedpath("--version")).toEqual({ status: 0, stdout: `Reedpath ${version}\n`, stderr: "" });
});
