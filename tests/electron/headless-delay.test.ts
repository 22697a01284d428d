import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { readWav, writeWav } from "../../core/listen/wav.ts";
import { reedpathIn } from "./run-program.ts";

const RATE_HZ = 48_000;
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-delay-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const reedpath = reedpathIn(() => folder);

const write = (name: string, samples: Float32Array, rate = RATE_HZ) =>
  writeFileSync(path.join(folder, name), writeWav(samples, rate, "float32"));

test("the probe that is written is found again in a recording of it, and its delay printed", async () => {
  const made = await reedpath("probe", "probe.wav");
  expect(made).toMatchObject({ status: 0, stderr: "" });
  expect(JSON.parse(made.stdout)).toMatchObject({
    schema: "reedpath.probe",
    sampleRateHz: RATE_HZ,
    bursts: 6,
  });
  const read = readWav(readFileSync(path.join(folder, "probe.wav")));
  if (read.kind === "unreadable") throw new Error(read.reason);
  const recorded = new Float32Array(read.samples.length);
  recorded.set(read.samples.subarray(0, read.samples.length - 2064), 2064);
  write("recorded.wav", recorded);
  const found = await reedpath("delay", "probe.wav", "recorded.wav");
  expect(found).toMatchObject({ status: 0, stderr: "" });
  // [calc] 2064 samples at 48 kHz are 43 ms
  expect(JSON.parse(found.stdout)).toMatchObject({
    schema: "reedpath.delay",
    version: 1,
    kind: "found",
    delayMs: 43,
    spreadMs: 0,
    clearBursts: 6,
  });
  write("silence.wav", new Float32Array(read.samples.length));
  const nothing = await reedpath("delay", "probe.wav", "silence.wav");
  expect(JSON.parse(nothing.stdout)).toMatchObject({ kind: "not heard", clearBursts: 0, bursts: 6 });
});

test.each([
  [["delay", "silence.wav", "silence.wav"], /silence\.wav: only silence$/],
  [["delay", "loud.wav", "other-rate.wav"], /other-rate\.wav: is at 44100 Hz, and loud\.wav at 48000 Hz/],
  [["delay", "loud.wav"], /expected PLAYED\.wav RECORDED\.wav, got loud\.wav$/],
  [["delay", "loud.wav", "missing.wav"], /missing\.wav: there is no such file$/],
  [["probe", "nowhere/probe.wav"], /nowhere\/probe\.wav: there is no such file$/],
  [["probe", "probe.wav", "--rate", "7"], /--rate must be a whole number from 8000 to 192000, not "7"$/],
])("%j is refused in one line", async (args, words) => {
  write("silence.wav", new Float32Array(1000));
  write("loud.wav", new Float32Array(4800).fill(0.1));
  write("other-rate.wav", new Float32Array(4800).fill(0.1), 44_100);
  const before = readdirSync(folder);
  const { status, stdout, stderr } = await reedpath(...args);
  expect(status).toBe(2);
  expect(stdout).toBe("");
  expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  expect(stderr.trimEnd()).toMatch(words);
  expect(readdirSync(folder)).toEqual(before);
});
