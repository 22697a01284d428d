import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { Plant } from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { bpm, cents } from "../../core/units.ts";
import { exerciseOf } from "../support/drills.ts";
import { longWav } from "../support/long-wav.ts";
import { readTable } from "../support/read-csv.ts";
import { within as reedpath } from "./within.ts";

const exercise = exerciseOf({ direction: "up", tempo: { bpm: bpm(180), noteValue: "1/4" } });
const RATE_HZ = 44_100;
let folder = "";

function take(seed: number, ...plants: readonly Plant[]): Uint8Array {
  const { samples } = simulateTake(exercise, { seed, plants, sampleRateHz: RATE_HZ });
  return writeWav(samples, RATE_HZ, "pcm16");
}

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-recordings-"));
  for (const name of ["pupils", "pupils/second year", "nothing here"]) mkdirSync(path.join(folder, name));
  const flat: Plant = { kind: "pitch", index: 3, offsetCents: cents(-40) };
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "scale.json": JSON.stringify(exercise),
    "pupils/take 10.wav": take(1),
    "pupils/take 2.wav": take(2, { kind: "missed", index: 4 }),
    "pupils/=SUM(A1).wav": take(3, flat),
    "pupils/second year/take 1.WAV": take(4),
    "pupils/silent.wav": writeWav(new Float32Array(2 * RATE_HZ), RATE_HZ, "pcm16"),
    "pupils/words.wav": "these are words, not sound",
    "pupils/evening.wav": longWav(3601),
    "pupils/list.txt": "no recording",
    "pupils/._take 10.wav": "what a system keeps beside a file",
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (...names: readonly string[]) => path.join(folder, ...names);
type Recording = { readonly file: string; readonly attempt?: Attempt; readonly reason?: string };

describe("many recordings of one exercise", () => {
  test("are marked as each alone, in the order given", async () => {
    const files = [at("pupils", "take 2.wav"), at("pupils", "take 10.wav")];
    const { status, stdout, stderr } = await reedpath("score", at("scale.json"), ...files);
    expect([status, stderr]).toEqual([0, ""]);
    const list = JSON.parse(stdout);
    expect([list.schema, list.version]).toEqual(["reedpath.attempts", 1]);
    expect(list.recordings.map(({ file }: Recording) => file)).toEqual(files);
    const alone = await reedpath("score", at("scale.json"), files[0] ?? "");
    expect(list.recordings[0].attempt).toEqual(JSON.parse(alone.stdout));
    expect(list.recordings[0].attempt.summary.notes).toMatchObject({ hit: 7, missed: 1 }); // as planted
  });

  test("in a folder are found in order of their names, and bad ones never lose the others", async () => {
    const { status, stdout, stderr } = await reedpath("score", at("scale.json"), at("pupils"));
    expect(status).toBe(1);
    expect(stderr).toBe("reedpath: 3 of 7 could not be marked\n");
    const { recordings } = JSON.parse(stdout) as { readonly recordings: readonly Recording[] };
    expect(
      recordings.map(({ file, reason = "marked" }) => [path.relative(at("pupils"), file), reason]),
    ).toEqual([
      ["=SUM(A1).wav", "marked"],
      ["evening.wav", "it lasts longer than the 60 minutes that can be marked"],
      [path.join("second year", "take 1.WAV"), "marked"],
      ["silent.wav", expect.stringMatching(/^only silence/)],
      ["take 2.wav", "marked"],
      ["take 10.wav", "marked"],
      ["words.wav", expect.stringMatching(/^not a WAV file/)],
    ]);
  });

  test("are printed as a table with a row each, which no spreadsheet takes for formulas", async () => {
    const { status, stdout } = await reedpath("score", at("scale.json"), at("pupils"), "--as", "csv");
    expect(status).toBe(1);
    const rows = readTable(stdout);
    expect(rows).toHaveLength(7);
    expect(stdout.split("\r\n")[0]).toMatch(/^recording,.*intonation spread \(cents\).*timing spread \(ms\)/);
    const ofTake = (name: string) => rows.find((row) => row.recording?.endsWith(name));
    expect(ofTake("take 2.wav")).toMatchObject({
      exercise: exercise.title,
      right: "7",
      missed: "1",
      "not marked because": "",
      "cost most": expect.stringMatching(/^1 of 8 notes/),
    });
    expect(ofTake("words.wav")).toMatchObject({ right: "", "not marked because": /^not a WAV file/ });
    // [calc] seven notes at 0 and one at -40 cents: mean -5, deviation 40/sqrt(8) = 14.1; a cent each of measuring.
    expect(Math.abs(Number(ofTake("=SUM(A1).wav")?.["intonation bias (cents; sharp +)"]) + 5)).toBeLessThan(
      1,
    );
    expect(Math.abs(Number(ofTake("=SUM(A1).wav")?.["intonation spread (cents)"]) - 14.1)).toBeLessThan(1);
    const stood = process.cwd();
    process.chdir(at("pupils"));
    const beside = await reedpath("score", at("scale.json"), "=SUM(A1).wav", "words.wav", "--as", "csv");
    process.chdir(stood);
    expect(readTable(beside.stdout)[0]?.recording).toBe("'=SUM(A1).wav");
  });

  test("a folder without recordings is named as such", async () => {
    const { status, stdout } = await reedpath(
      "score",
      at("scale.json"),
      at("nothing here"),
      at("nowhere.wav"),
    );
    expect(status).toBe(1);
    expect(JSON.parse(stdout).recordings).toEqual([
      { file: at("nothing here"), reason: "there is no recording in this folder" },
      { file: at("nowhere.wav"), reason: "there is no such file" },
    ]);
  });

  test("one that lasts too long is refused alone too, and an exercise without a take is no question", async () => {
    const long = await reedpath("score", at("scale.json"), at("pupils", "evening.wav"));
    expect(long).toMatchObject({
      status: 2,
      stdout: "",
      stderr: expect.stringMatching(/longer than the 60 minutes/),
    });
    const none = await reedpath("score", at("scale.json"));
    expect(none).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/expected EXERCISE\.json TAKE\.wav/),
    });
  });
});
