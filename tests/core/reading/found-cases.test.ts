import { describe, expect, test } from "vitest";
import { readExercise } from "../../../core/exercise/exercise-json.ts";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { readLayout } from "../../../core/instrument/layout-json.ts";
import { readWav } from "../../../core/listen/wav.ts";
import { readMode } from "../../../core/pitch/modes.ts";
import { readAttempt } from "../../../core/score/attempt-versions.ts";
import { readTunes } from "../../../core/tune/read-tunes.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { CommandError } from "../../../electron/commands/command-error.ts";
import { weighedBy } from "../../../electron/commands/design-options.ts";
import { setListOf } from "../../../electron/commands/set-list-file.ts";
import { importTunes } from "../../../renderer/tunes/import-tunes.ts";
import { exerciseOf } from "../../support/drills.ts";
import { END, metre, midiFile, note } from "../../support/midi-file.ts";
import { begin, bytesOf, measure, note as noteXml, score } from "../../support/musicxml.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { chunk, fmt, bytesOf as listed, riff } from "../listen/wav-bytes.ts";

/** Cases that `npm run fuzz` found, or that were found while it was written, each as small as it can be. */

function onlyTune(bytes: Uint8Array): Tune {
  const read = readTunes(bytes);
  const tune = read.kind === "tunes" ? read.tunes[0] : undefined;
  if (tune === undefined)
    throw new Error(read.kind === "unreadable" ? read.reason : (read.bad[0]?.reason ?? "no tune"));
  return tune;
}

const sounds = ({ notes }: Tune) =>
  notes.map(({ startTicks, lengthTicks, midi }) => [startTicks, lengthTicks, midi]);

describe("words that every object of the language knows are words of a file like others", () => {
  test("as an entity in a title", () => {
    const abc = "X:1\nT:A &constructor; B &toString; C\nM:4/4\nL:1/8\nK:G\nGABG AGEG|\n";
    expect(onlyTune(bytesOf(abc)).title).toBe("A &constructor; B &toString; C");
  });

  test("as what somebody did for a score: one kind of field, and plain data", () => {
    const head =
      '<identification><creator type="constructor">Nan of the village band</creator></identification>';
    const tune = onlyTune(bytesOf(score(begin(noteXml("G4", 8)), head)));
    expect(structuredClone(tune.fields)).toEqual([{ kind: "notes", text: "Nan of the village band" }]);
  });

  test("as an ornament of a score, written as ABC", () => {
    const ornament =
      "<notations><ornaments><other-ornament>constructor</other-ornament></ornaments></notations>";
    const tune = onlyTune(bytesOf(score(begin(noteXml("G4", 8, ornament)))));
    expect(writeAbc(tune)).toContain("!constructor!");
  });

  test("as a pitch of a score, and as words over a note", () => {
    const step = noteXml("G4", 8).replace("<step>G</step>", "<step>constructor</step>");
    const read = readTunes(bytesOf(score(begin(step))));
    expect(read.kind === "unreadable" && read.reason).toMatch(
      /<step> is "constructor"; a letter from A to G is needed$/,
    );
    const abc = 'X:1\nT:Chairs Against the Wall\nM:4/4\nL:1/8\nK:G\n"^constructor"GABG !constructor!AGEG|\n';
    expect(structuredClone(onlyTune(bytesOf(abc)).notes)).toHaveLength(8);
  });

  test("as the title of a tune that is weighed: it counts once where no weight is given", () => {
    const tune = tuneOf([{ written: 1, notes: "D4 E4" }], { title: "constructor" });
    expect(weighedBy({}, "weights.json", [tune])[0]?.weight).toBe(1);
  });
});

test("a mode has no such name", () => {
  expect(readMode("constructor")).toMatchObject({ kind: "unreadable" });
});

test("an attempt of a version that is no number is damaged, not newer", () => {
  const attempt = { schema: "reedpath.attempt", version: "\u001b[2J" };
  expect(readAttempt(attempt)).toEqual({ kind: "unreadable", reason: 'version: must be 1 to 2, not " [2J"' });
});

describe("JSON that is deep, long or steers the terminal", () => {
  test("nesting is refused with its limit, in whatever field", () => {
    const deep = `{"schema":"reedpath.layout","version":1,"name":${"[".repeat(100_000)}${"]".repeat(100_000)}}`;
    const reason = "more than 64 levels of lists and objects, the most that is read";
    expect(readLayout(deep)).toEqual({ kind: "unreadable", reason });
    expect(readExercise(deep)).toEqual({ kind: "unreadable", reason });
  });

  test("brackets within a text are no nesting", () => {
    const name = `${"[{".repeat(20)}\\"`;
    const text = `{"schema":"reedpath.layout","version":1,"name":"${name}","holes":[{"blow":0,"draw":2}]}`;
    expect(readLayout(text)).toMatchObject({ kind: "layout", layout: { name: `${"[{".repeat(20)}"` } });
  });

  test("a reason is one short line without characters that steer", () => {
    const read = readExercise(
      JSON.stringify({
        schema: "reedpath.exercise",
        version: 4,
        kind: `\u001b[2J\n\u202e${"x".repeat(100_000)}`,
      }),
    );
    const reason = read.kind === "unreadable" ? read.reason : "";
    expect(reason).toMatch(/^kind: /);
    expect(reason).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(reason.length).toBeLessThanOrEqual(300);
  });
});

test("a set list names no file to be opened", () => {
  const list = { sets: [{ tunes: [{ title: "a", harp: "//host/share/layout.json G" }] }] };
  expect(() => setListOf(list, "list.json", (title) => title)).toThrow(CommandError);
  expect(() => setListOf(list, "list.json", (title) => title)).toThrow("of no layout of the catalogue");
});

test("a sample of 64 bits that 32 cannot hold is taken as silence, and counted", () => {
  const samples = listed((view) => {
    view.setFloat64(0, 1e300, true);
    view.setFloat64(8, 0.5, true);
  }, 16);
  expect(readWav(riff(chunk("fmt ", fmt(3, 1, 48_000, 64)), chunk("data", samples)))).toMatchObject({
    samples: new Float32Array([0, 0.5]),
    warnings: ["1 samples were not finite numbers and were taken as silence"],
  });
});

test("a section played more often than a repeat can say is written whole", () => {
  const long = Array.from({ length: 130 }, () => measure(noteXml("G4", 8)));
  const tune = onlyTune(
    bytesOf(score([begin(noteXml("A4", 8)), ...long, measure(noteXml("B4", 8))].join(""))),
  );
  expect(sounds(onlyTune(bytesOf(writeAbc(tune))))).toEqual(sounds(tune));
});

test("a MIDI file's bar of more beats than a bar can have is none: its long notes can be written", () => {
  const tune = onlyTune(
    midiFile([[...metre(255, 0), ...Array.from({ length: 40 }, () => note(72, 16_000)).flat(), ...END]]),
  );
  expect(sounds(onlyTune(bytesOf(writeAbc(tune))))).toEqual(sounds(tune));
});

test("a note of an exercise has a name that a staff can show", () => {
  const exercise = exerciseOf();
  const notes = exercise.notes.map((one, n) => (n === 2 ? { ...one, noteName: "B " } : one));
  expect(readExercise(JSON.stringify({ ...exercise, notes }))).toEqual({
    kind: "unreadable",
    reason: "notes[2].noteName: not the name of a note",
  });
});

// It took longer than anyone would wait: [calc] a row of 4,000 digits can be parted in 2^3999 ways.
test("a chord symbol of thousands of digits is looked at once", () => {
  const abc = `X:1\nT:Chairs Against the Wall\nM:4/4\nL:1/8\nK:G\n"G${"9".repeat(4000)}?"GABG AGEG|\n`;
  expect(onlyTune(bytesOf(abc)).notes).toHaveLength(8);
});

test("a title with a character that is none is written as a line of ABC that can be read again", () => {
  const abc = "X:1\nT:Chairs \u0000 Against\nM:4/4\nL:1/8\nK:G\nGABG|\n";
  const written = writeAbc(
    tuneOf([{ written: 1, notes: "D4 E4" }], { title: "Chairs \u0000\u0007 Against" }),
  );
  expect(onlyTune(bytesOf(written)).title).toBe("Chairs Against");
  expect(readTunes(bytesOf(abc))).toMatchObject({ kind: "unreadable" });
});

test("a tune that would be too long to be read again is not brought in", () => {
  const random = seededRandom(1);
  // Semiquavers with rests between, so that nothing comes again.
  const notes = Array.from({ length: 15_000 }, () => note(61 + Math.floor(24 * random()), 60, 60)).flat();
  const many = new Uint8Array([...midiFile([], 1), 0x4d, 0x54, 0x72, 0x6b, 0, 0, 0, 0, ...notes, ...END]);
  many[11] = 1;
  new DataView(many.buffer).setUint32(18, notes.length + END.length);
  expect(() => [...importTunes("long.mid", many)]).toThrow(
    /^long.mid: written out, the tune has [\d,]+ characters; at most 100,000 are read$/,
  );
});

test("a note shorter than half a tick is left out, and leaves no bar without length", () => {
  const tune = onlyTune(
    bytesOf("X:1\nT:Chairs Against the Wall\nM:4/4\nL:1/8\nK:G\nd/4294967296|GABG AGEG|\n"),
  );
  expect(tune.bars.every(({ lengthTicks }) => lengthTicks > 0)).toBe(true);
  expect(tune.notes).toHaveLength(8);
});

test("a beat type of thousands of letters is told shortly", () => {
  const time = `<attributes><time><beats>4</beats><beat-type>${"a".repeat(5000)}</beat-type></time></attributes>`;
  const read = readTunes(bytesOf(score(measure(`${time}${noteXml("A4", 8)}`))));
  if (read.kind !== "unreadable") throw new Error("no such beat type");
  expect(read.reason).toMatch(/<time> is no metre: beats 4, beat type a+/);
  // As long as any reason with words of the file may be, in `tests/bench/fuzz`.
  expect(read.reason.length).toBeLessThan(800);
});

test("a note within a tuplet is as long as it sounds, however long it is written", () => {
  // [calc] 93 written semibreves in 15:8 are 49.6; 121 are 64.5, more than the 64 a note may have.
  const abc = (units: number) => `X:1\nT:Chairs Against the Wall\nM:60/1\nL:1/1\nK:G\n(15:8:2G2A${units}|\n`;
  expect(onlyTune(bytesOf(abc(93))).notes.at(-1)?.lengthTicks).toBe((93 * 8 * 161_280) / 15);
  expect(readTunes(bytesOf(abc(121)))).toMatchObject({ tunes: [], bad: [{}] });
});
