import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type ArchiveRecord, RECORD_KINDS } from "../../../core/archive/archive-format.ts";
import { archiveItems } from "../../../core/archive/archive-items.ts";
import { EMPTY_SUMMARY, withRecord } from "../../../core/archive/archive-summary.ts";
import { fromBase64, isBase64, toBase64 } from "../../../core/archive/base64.ts";
import { canonicalJson } from "../../../core/archive/canonical-json.ts";
import { readArchive } from "../../../core/archive/read-archive.ts";
import { takeRecords } from "../../../core/archive/write-archive.ts";
import { archiveText, entryValue, eventsOf, everyKind, PACKED_ABOUT } from "../../support/archives.ts";

const attempt = (id: string, changes: Readonly<Record<string, unknown>> = {}): ArchiveRecord => ({
  kind: "attempt",
  id,
  value: entryValue(changes),
});
const last = async (text: string) => (await eventsOf(text)).at(-1);
const refusal = async (text: string) => {
  const event = await last(text);
  return event?.kind === "refused" ? event.reason : `not refused: ${event?.kind}`;
};

describe("canonical JSON", () => {
  // [F] RFC 8785, 3.2.3: names sorted by UTF-16 code units; its example, without the numbers of 3.2.2.
  test("sorts names as RFC 8785 does", () => {
    const example = {
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis",
    };
    expect(Object.values(JSON.parse(canonicalJson(example)) as object).length).toBe(7);
    expect([...canonicalJson(example).matchAll(/:"([^"]+)"/g)].map(([, value]) => value)).toEqual([
      "Carriage Return",
      "One",
      "Control",
      "Latin Small Letter O With Diaeresis",
      "Euro Sign",
      "Emoji: Grinning Face",
      "Hebrew Letter Dalet With Dagesh",
    ]);
  });

  // [calc] code units: "1" is before "9", "y" before "z"; what JSON has no word for is null or named.
  test.each([
    [
      { b: { z: 1, y: [undefined, -0, Number.NaN] }, a: undefined },
      '{"y":[null,0,{"not a JSON number":"NaN"}],"z":1}',
    ],
    [
      { b: { "9": 1, "10": [undefined, -0, Number.NaN] } },
      '{"10":[null,0,{"not a JSON number":"NaN"}],"9":1}',
    ],
  ])("of %o has its names in order at every depth", (value, within) => {
    expect(canonicalJson(value)).toBe(`{"b":${within}}`);
  });

  test("is the same text again after it was read, whatever it says", () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
      }),
    );
  });
});

describe("base64", () => {
  // [F] RFC 4648, section 10, test vectors.
  test.each([
    ["", ""],
    ["f", "Zg=="],
    ["fo", "Zm8="],
    ["foo", "Zm9v"],
    ["foob", "Zm9vYg=="],
    ["fooba", "Zm9vYmE="],
    ["foobar", "Zm9vYmFy"],
  ])("%s is %s", (words, text) => {
    expect(toBase64(new TextEncoder().encode(words))).toBe(text);
    expect(new TextDecoder().decode(fromBase64(text))).toBe(words);
  });

  // [X] Node's own Buffer.
  test("of any bytes is as Node writes it, and comes back", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 7000 }), (bytes) => {
        expect(toBase64(bytes)).toBe(Buffer.from(bytes).toString("base64"));
        expect(fromBase64(toBase64(bytes))).toEqual(new Uint8Array(bytes));
      }),
    );
    expect(["a", "ab=c", "Zg=", "Zg==Zg==", "Z g="].map(isBase64)).toEqual([
      false,
      false,
      false,
      false,
      false,
    ]);
  });
});

describe("an archive", () => {
  test("gives back every record of every kind, in pieces of any length", async () => {
    const records = everyKind();
    expect(new Set(records.map(({ kind }) => kind))).toEqual(new Set(RECORD_KINDS));
    for (const length of [1, 7, 4096, 1e9]) {
      const events = await eventsOf(archiveText(records), length);
      expect(events.at(-1)?.kind).toBe("end");
      const read = events.flatMap((event) => (event.kind === "record" ? [event.record] : []));
      expect(read).toEqual(JSON.parse(JSON.stringify(records)));
      expect(archiveText(read)).toBe(archiveText(records));
    }
  });

  test("says what it holds", async () => {
    let summary = EMPTY_SUMMARY;
    for (const record of everyKind()) summary = withRecord(summary, record);
    expect(summary.counts).toMatchObject({ tune: 1, harp: 1, "set list": 1, attempt: 2, take: 1 }); // as made
    // [calc] 1790000000 s is 2026-09-21T14:13:20Z, 1790100000 s is 2026-09-22T18:00:00Z; Dublin is an hour ahead.
    expect(summary.days).toEqual({ first: "2026-09-21", last: "2026-09-22" });
    expect([summary.starred, summary.demo]).toEqual([1, 0]);
  });

  test("gives takes that need several lines back whole, to their own attempts", async () => {
    // [calc] three parts of at most 786432 bytes.
    const bytes = Uint8Array.from({ length: 2_000_000 }, (_, n) => (n * n) % 251);
    const records = [attempt("a"), ...takeRecords("a", { ...PACKED_ABOUT, count: 9 }, bytes), attempt("b")];
    expect(records.length).toBe(5);
    const items = [];
    const text = archiveText(records);
    for await (const item of archiveItems(readArchive(pieces(text)))) items.push(item);
    expect(items.map(({ kind }) => kind)).toEqual(["attempt", "attempt", "end"]);
    expect(items[0]).toMatchObject({ id: "a", take: { about: { form: "packed", count: 9 } } });
    const { take } = items[0] as { readonly take: { readonly bytes: Uint8Array } };
    expect(Buffer.compare(take.bytes, bytes)).toBe(0);
    expect(items[1]).toMatchObject({ id: "b", take: null });
  });

  test("keeps numbers that JSON cannot write", async () => {
    const { attempt: marked } = entryValue();
    const silent = { ...marked, take: { ...marked.take, peakDbfs: Number.NEGATIVE_INFINITY } };
    const [event] = await eventsOf(archiveText([attempt("a", { attempt: silent })]));
    const { record } = event as { readonly record: { readonly value: { readonly attempt: typeof silent } } };
    expect(record.value.attempt.take.peakDbfs).toBe(Number.NEGATIVE_INFINITY);
  });

  test("of version 1, which knew no measurements of reeds and did not count them, is read", async () => {
    const records = everyKind().filter(({ kind }) => kind !== "reed measurement");
    const text = archiveText(records)
      .replace('"version":2', '"version":1')
      .replace(/"reed measurement":0,/, "");
    expect(text).not.toContain("reed measurement");
    const events = await eventsOf(text);
    expect(events.at(-1)?.kind).toBe("end");
    expect(events.filter(({ kind }) => kind === "record")).toHaveLength(records.length);
  });

  test("of the first version of attempts and exercises is read", async () => {
    const { attempt: now, exercise } = entryValue();
    const { notes, intonation, timing } = now.summary;
    const old = {
      ...now,
      version: 1,
      summary: { notes, intonation: { ...intonation, bends: undefined }, timing },
      way: undefined,
      ornaments: undefined,
    };
    const value = { ...entryValue(), attempt: old, exercise: { ...exercise, version: 1 } };
    const events = await eventsOf(archiveText([{ kind: "attempt", id: "a", value }]));
    expect(events.map(({ kind }) => kind)).toEqual(["record", "end"]);
  });
});

async function* pieces(text: string) {
  yield text;
}

describe("an archive is refused", () => {
  const whole = archiveText(everyKind());
  test.each([
    ["that is empty", "", "not an archive of this program: it is empty"],
    ["that is something else", "X:1\nT:a tune\n", "not an archive of this program"],
    ["of JSON of another kind", '{"schema":"reedpath.exercise"}\n', "not an archive of this program"],
    [
      "without an end",
      whole.slice(0, whole.lastIndexOf("\n", whole.length - 2) + 1),
      "cut off: its last line is missing",
    ],
    ["cut in a line", whole.slice(0, -5), expect.stringMatching(/^cut off in line 13$/)],
    [
      "of a newer version",
      whole.replace('"version":2', '"version":3'),
      "written by a newer version of this program (archive version 3, this one reads 2)",
    ],
    ["that goes on after its end", `${whole}{}\n`, "line 14: something follows the end"],
    ["with an unknown kind", whole.replace('"kind":"wish"', '"kind":"dream"'), /no such kind of record/],
    [
      "with a line left out",
      whole.replace(/.*"kind":"harp".*\n/, ""),
      /records.harp: says 1, the file has 0/,
    ],
    [
      "with a line that is not JSON",
      whole.replace('{"id":"tune-1"', '{"id";"tune-1"'),
      /^line 5: not a JSON/,
    ],
    [
      "with a line out of order",
      whole.replace('"id":"attempt-1","kind":"attempt"', '"id":"zz","kind":"attempt"'),
      /a take must follow its attempt/,
    ],
  ])("%s", async (_, text, reason) => {
    expect(await refusal(text)).toEqual(reason instanceof RegExp ? expect.stringMatching(reason) : reason);
  });

  test("that holds a record twice, or an attempt that a newer program marked", async () => {
    expect(await refusal(archiveText([attempt("a"), attempt("a")]))).toMatch(/there twice/);
    const newer = { ...entryValue().attempt, version: 99 };
    expect(await refusal(archiveText([attempt("a", { attempt: newer })]))).toMatch(
      /^line 2, value\.attempt: made by a newer version/,
    );
  });

  test("that has a line without end, long before it is all read", async () => {
    let given = 0;
    async function* endless() {
      yield archiveText([]).split("\n")[0] ?? "";
      yield "\n";
      for (;;) {
        given += 1;
        yield "x".repeat(1 << 20);
      }
    }
    const events = [];
    for await (const event of readArchive(endless())) events.push(event);
    expect(events).toEqual([{ kind: "refused", reason: expect.stringMatching(/^line 2 has more than/) }]);
    expect(given).toBeLessThanOrEqual(65); // [calc] 64 MiB in pieces of 1 MiB, and the one too many
  });
});

describe("a record that cannot be read", () => {
  const withFault = async (record: ArchiveRecord) =>
    (await eventsOf(archiveText([record]))).flatMap((event) =>
      event.kind === "fault" ? [`line ${event.line}, ${event.reason}`] : [],
    );

  test("is named by line and field, and costs no other", async () => {
    const broken = entryValue();
    const marks = broken.attempt.marks.map((mark, n) => (n === 3 ? { ...mark, cents: "much" } : mark));
    const records = [
      attempt("a"),
      attempt("b", { attempt: { ...broken.attempt, marks } }),
      ...takeRecords("b", PACKED_ABOUT, new Uint8Array(3)),
      attempt("c"),
    ];
    const events = await eventsOf(archiveText(records));
    expect(events.map(({ kind }) => kind)).toEqual(["record", "fault", "fault", "record", "end"]);
    expect(events[1]).toMatchObject({
      line: 3,
      reason: expect.stringMatching(/^value\.attempt\.marks\[3\]\.cents: /),
    });
    expect(events[2]).toMatchObject({ line: 4, reason: "a take whose attempt cannot be read" });
  });

  test.each([
    ["zone", { zone: 7 }, /^line 2, value\.zone: /],
    ["time", { atEpochMs: -1 }, /^line 2, value\.atEpochMs: /],
    ["source", { source: "simulated" }, /^line 2, value\.source: /],
    ["exercise", { exercise: null }, /^line 2, value\.exercise: not an exercise/],
    ["attempt", { attempt: {} }, /^line 2, value\.attempt: not an attempt/],
  ])("for its %s", async (_, changes, words) => {
    expect(await withFault(attempt("a", changes))).toEqual([expect.stringMatching(words)]);
  });

  test("for a mark of a note the exercise does not have", async () => {
    const { attempt: marked, exercise } = entryValue();
    const stray = [{ ...marked.marks[0], index: exercise.notes.length }];
    expect(await withFault(attempt("a", { attempt: { ...marked, marks: stray } }))).toEqual([
      expect.stringMatching(/marks\[0\]\.index: the exercise has \d+ notes/),
    ]);
  });

  // [calc] four bytes for a 32-bit sample; a packed sample needs a bit at the least, so that three bytes hold 24.
  test.each([
    [{ form: "float32", sampleRateHz: 48_000, count: 2 }, 8, true],
    [{ form: "float32", sampleRateHz: 48_000, count: 2 }, 7, false],
    [{ ...PACKED_ABOUT, count: 24 }, 3, true],
    [{ ...PACKED_ABOUT, count: 25 }, 3, false],
  ] as const)("for a take %j of %d bytes: %s", async (about, bytes, isRight) => {
    const records = [attempt("a"), ...takeRecords("a", about, new Uint8Array(bytes))];
    const events = await eventsOf(archiveText(records));
    expect(events.map(({ kind }) => kind)).toEqual(["record", isRight ? "record" : "fault", "end"]);
  });

  test("for parts of a take that do not follow one another", async () => {
    const [part] = takeRecords("a", PACKED_ABOUT, new Uint8Array(3));
    const value = { ...(part?.value as object), part: 1, parts: 2 };
    const events = await eventsOf(archiveText([attempt("a"), { kind: "take", id: "a", value }]));
    expect(events.map(({ kind }) => kind)).toEqual(["record", "fault", "end"]);
  });
});
