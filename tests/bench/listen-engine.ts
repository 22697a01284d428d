/** The listening engine as a command: `node out/bench/listen-engine.js FILE.wav` prints the JSON of `listen`. */
import { readFileSync, writeSync } from "node:fs";
import { toListenJson } from "../../core/listen/listen-json.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { readWav } from "../../core/listen/wav.ts";

const file = process.argv[2];
if (file === undefined) throw new Error("usage: node out/bench/listen-engine.js FILE.wav");
const wav = readWav(readFileSync(file));
if (wav.kind === "unreadable") throw new Error(`${file}: ${wav.reason}`);
const text = Buffer.from(`${JSON.stringify(toListenJson(listenToTake(wav.samples, wav.sampleRateHz)))}\n`);
for (let written = 0; written < text.length; ) written += writeSync(1, text, written);
