import { gzipSync } from "node:zlib";
import { archiveItems } from "../../../core/archive/archive-items.ts";
import { canonicalJson } from "../../../core/archive/canonical-json.ts";
import { attemptRow, noteRows, type TabledAttempt } from "../../../core/archive/history-table.ts";
import { readArchive } from "../../../core/archive/read-archive.ts";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import { readWav, writeWav } from "../../../core/listen/wav.ts";
import { rollUp } from "../../../core/progress/counts/roll-ups.ts";
import { factOf } from "../../../core/progress/counts/session-fact.ts";
import { unpacked } from "../../../renderer/archive/gzip.ts";
import { chunk, fmt, riff } from "../../core/listen/wav-bytes.ts";
import { archiveText, everyKind } from "../../support/archives.ts";
import { mutatedBytes } from "../../support/mutate-bytes.ts";
import { below, EDGE_NUMBERS, oneOf } from "./chance.ts";
import { bytesOf, type FuzzedReader, faultsOfData, type Outcome, refused } from "./fuzzed-reader.ts";
import { changedValue } from "./json-changes.ts";

/** Recordings: chunks of chance around sound of a tenth of a second. */
export function wavReader(): FuzzedReader {
  const samples = Float32Array.from(
    { length: 4800 },
    (_, n) => 0.3 * Math.sin((2 * Math.PI * 440 * n) / 48_000),
  );
  const sound = [writeWav(samples, 48_000, "pcm16"), writeWav(samples, 44_100, "float32")];
  return {
    name: "WAV",
    ending: "wav",
    make: (random) => (random() < 0.5 ? madeWav(random) : mutatedBytes(random, sound)),
    read: (bytes) => {
      const read = readWav(bytes);
      if (read.kind === "unreadable") return refused(read.reason);
      const strange = read.samples.some((sample) => !Number.isFinite(sample));
      const more = read.samples.length > bytes.length ? ["more samples than the file has bytes"] : [];
      return { kind: "read", faults: strange ? ["a sample that is no number", ...more] : more };
    },
    command: (path) => ["listen", path],
  };
}

function madeWav(random: Random): Uint8Array {
  const content = Array.from({ length: below(random, 400) }, () => below(random, 256));
  const format = fmt(
    oneOf(random, [1, 1, 1, 3, 3, 2, 85, 0xfffe]),
    oneOf(random, [1, 1, 2, 6, 32, 33, 0, 65_535]),
    oneOf(random, [8000, 44_100, 48_000, 192_000, 7999, 0, 2 ** 32 - 1]),
    oneOf(random, [8, 16, 24, 32, 64, 0, 12]),
  );
  const chunks = [
    chunk("fmt ", format),
    chunk("data", content),
    chunk("LIST", content.slice(0, 9)),
    chunk("bext", []),
  ].filter(() => random() < 0.85);
  const bytes = riff(...(random() < 0.8 ? chunks : chunks.toReversed()));
  return random() < 0.3 ? mutatedBytes(random, [bytes]) : bytes;
}

/** Archives: records changed field by field, lines put elsewhere, the packed bytes changed, traps that unpack to no end. */
export function archiveReader(): FuzzedReader {
  const records = everyKind();
  const whole = archiveText(records);
  const packed = gzipSync(whole);
  const make = (random: Random): Uint8Array => {
    const turn = random();
    if (turn < 0.55) {
      const at = below(random, records.length);
      return gzipSync(
        archiveText(
          records.map((record, n) =>
            n === at ? { ...record, value: changedValue(random, record.value) } : record,
          ),
        ),
      );
    }
    if (turn < 0.7) return gzipSync(mutatedBytes(random, [bytesOf(whole)]));
    if (turn < 0.85) return gzipSync(shuffledLines(random, whole));
    if (turn < 0.9)
      return gzipSync(
        bytesOf(
          whole.split("\n")[0] +
            "\n" +
            oneOf(random, ["[", '{"a":', "x", "\n"]).repeat(below(random, 3_000_000)),
        ),
      );
    return mutatedBytes(random, [packed]);
  };
  return {
    name: "archive",
    ending: "reedpath",
    make,
    read: readThrough,
    command: (path) => ["archive", path],
  };
}

function shuffledLines(random: Random, text: string): string {
  const lines = text.split("\n");
  const [from, to] = [below(random, lines.length), below(random, lines.length)];
  const line = lines[from] ?? "";
  const turn = random();
  if (turn < 0.3) return lines.toSpliced(to, 0, line).join("\n");
  if (turn < 0.6) return lines.toSpliced(from, 1).join("\n");
  return lines.with(to, line.replace(/\d+/, String(oneOf(random, EDGE_NUMBERS)))).join("\n");
}

/** As the window brings an archive in; whatever it lets through, all that is made of attempts can be made of. */
async function readThrough(bytes: Uint8Array): Promise<Outcome> {
  const attempts: TabledAttempt[] = [];
  const faults: string[] = [];
  const file = new Blob([bytes.slice()]);
  for await (const item of archiveItems(readArchive(unpacked(file)))) {
    if (item.kind === "refused")
      return { kind: "refused", faults: [...faults, ...refused(item.reason).faults] };
    if (item.kind === "end") break;
    faults.push(...faultsOfData(item.value));
    canonicalJson(item.value);
    if (item.kind === "attempt") attempts.push({ ...(item.value as object), id: item.id } as TabledAttempt);
  }
  rollUp(attempts.map(factOf));
  for (const attempt of attempts) {
    attemptRow(attempt);
    noteRows(attempt);
  }
  return { kind: "read", faults };
}
