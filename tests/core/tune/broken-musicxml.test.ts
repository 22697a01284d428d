import { describe, expect, test } from "vitest";
import { LIMITS } from "../../../core/reading/limits.ts";
import { readMusicXml } from "../../../core/tune/read-musicxml.ts";
import { begin, bytesOf, CONTAINER, measure, note, score, zipped } from "../../support/musicxml.ts";

function reasonOf(file: string | Uint8Array): string {
  const read = readMusicXml(typeof file === "string" ? bytesOf(file) : file);
  if (read.kind === "tunes") throw new Error("the file was read");
  return read.reason;
}

const G = begin(note("G4", 8));
const good = score(G);
const mxl = zipped({ "META-INF/container.xml": CONTAINER, "score.musicxml": good });

/** A copy with some bytes at a place changed. */
function patched(bytes: Uint8Array, at: number, values: readonly number[]): Uint8Array {
  const copy = bytes.slice();
  copy.set(values, at);
  return copy;
}

/** Where the last of some bytes begins. */
function lastOf(bytes: Uint8Array, mark: readonly number[]): number {
  for (let at = bytes.length - mark.length; at >= 0; at--) {
    if (mark.every((value, index) => bytes[at + index] === value)) return at;
  }
  throw new Error("no such bytes");
}

describe("XML that is none", () => {
  test.each([
    ["", "an empty file"],
    ["X:1\nK:C\nabc|", 'not XML: it begins with "X:1 K:C abc|"'],
    [good.slice(0, 250), "the file ends inside <"],
    [good.replace("</pitch>", ""), "not well-formed XML: "],
    ["<score-partwise>", "the file ends inside <score-partwise>: it is cut off or broken"],
    ["<score-partwise/>", "line 1, column 1: <score-partwise> holds no part"],
    ["<html></html>", 'not MusicXML: the root is "html"'],
    ["<opus/>", "an opus only lists other files"],
    [good.replace("UTF-8", "EBCDIC"), 'the encoding "EBCDIC" is not read; save the file as UTF-8'],
  ])("%# is refused with its reason", (text, reason) => {
    expect(reasonOf(text)).toContain(reason);
  });

  test("is refused with the line and column of the fault", () => {
    // [calc] Line 2 is the root element; the fault is the end tag in line 3.
    expect(reasonOf("<?xml version='1.0'?>\n<score-partwise>\n  </part>\n</score-partwise>")).toMatch(
      /^line 3, column \d+: /,
    );
  });
});

describe("music that makes no sense", () => {
  test.each([
    [score(begin(note("G4", 8).replace("<duration>8</duration>", ""))), "<note> has no <duration>"],
    [
      score(begin(note("G4", 8).replace(">8<", ">long<"))),
      '<duration> is "long"; a number from 0 to 1000000000 is needed',
    ],
    [score(begin(note("G4", 8).replace(">8<", ">-8<"))), '<duration> is "-8"'],
    [score(begin(note("G4", 8).replace(">G<", ">H<"))), '<step> is "H"; a letter from A to G is needed'],
    [score(begin(note("G4", 8).replace(">4<", ">44<"))), '<octave> is "44"; a number from 0 to 9 is needed'],
    [
      score(begin(note("G4", 8), "<key><fifths>12</fifths></key>")),
      '<fifths> is "12"; a number from -7 to 7 is needed',
    ],
    [
      score(begin(note("G4", 8), "", "<time><beats>4</beats><beat-type>5</beat-type></time>")),
      "<time> is no metre",
    ],
    [score(begin(note("G4", 8)).replace("<divisions>2<", "<divisions>0<")), '<divisions> is "0"'],
    [
      score(measure("<note><rest/><duration>4</duration></note>")),
      "no part of the score has notes of a pitch",
    ],
  ])("%# is refused with its reason", (text, reason) => {
    expect(reasonOf(text)).toContain(reason);
  });

  test("names the place", () => {
    // [calc] The part begins in line 4 of what `score` makes.
    expect(reasonOf(score(begin(note("G4", 8).replace(">G<", ">H<"))))).toMatch(
      /^line 4, column \d+: <step>/,
    );
  });

  test("a bar longer than any is refused", () => {
    const far = "<forward><duration>999999999</duration></forward>";
    expect(reasonOf(score(begin(note("G4", 8) + far)))).toContain(
      "a bar of more than 64 semibreves, the most that is read",
    );
  });

  test("repeats without end are stopped by the limit on bars", () => {
    const times = '<barline location="right"><repeat direction="backward" times="100"/></barline>';
    const bars = Array.from({ length: 300 }, () => measure(note("A4", 8))).join("");
    // [calc] 301 bars a hundred times are 30,100; 20,000 are played.
    expect(reasonOf(score(G + bars.replace(/<\/measure>$/, `${times}</measure>`)))).toBe(
      "played out, the tune has more than 20,000 bars, the most that is read",
    );
  });
});

describe("XML that wants more than it should", () => {
  test("entities of its own are refused before any is read", () => {
    const lines = Array.from(
      { length: 10 },
      (_, at) => `<!ENTITY e${at + 1} "&e${at};&e${at};&e${at};&e${at};">`,
    );
    const bomb = `<!DOCTYPE score-partwise [<!ENTITY e0 "ha">${lines.join("")}]>`;
    expect(reasonOf(good.replace("?>", `?>${bomb}`).replace("Melody", "&e10;"))).toContain(
      "the DOCTYPE defines entities of its own, which are never read",
    );
  });

  test("files of this computer cannot be asked for", () => {
    const doctype = '<!DOCTYPE score-partwise [<!ENTITY secret SYSTEM "file:///etc/hostname">]>';
    expect(reasonOf(good.replace("?>", `?>${doctype}`).replace("Melody", "&secret;"))).toContain(
      "entities of its own",
    );
  });

  test("entities nobody defined are an error", () => {
    expect(reasonOf(good.replace("Melody", "&secret;"))).toContain("not well-formed XML: undefined entity");
  });

  test("nesting has a limit that is named", () => {
    const deep = "<a>".repeat(LIMITS.xmlDepth.most + 1);
    expect(reasonOf(deep)).toContain(
      `more than ${LIMITS.xmlDepth.most} levels of elements, the most that is read`,
    );
  });

  test("elements have a limit that is named", () => {
    const many = `<score-partwise>${"<a/>".repeat(LIMITS.xmlElements.most)}</score-partwise>`;
    expect(reasonOf(many)).toContain("more than 100,000 elements, the most that is read");
  });

  test("bytes have a limit that is named", () => {
    expect(reasonOf(new Uint8Array(LIMITS.xmlBytes.most + 1))).toBe(
      "the file has 4,000,001 bytes; at most 4,000,000 are read",
    );
  });
});

describe("compressed files", () => {
  test("are refused where they are cut off anywhere", () => {
    for (let length = 2; length < mxl.length; length += 7) {
      expect(reasonOf(mxl.subarray(0, length))).toMatch(/^the compressed file is (cut off|broken): /);
    }
  });

  test("that unpack to more than the limit are stopped on the way", () => {
    const zeros = new Uint8Array(LIMITS.xmlUnpackedBytes.most + 1);
    expect(reasonOf(zipped({ "META-INF/container.xml": CONTAINER, "score.musicxml": zeros }))).toBe(
      '"score.musicxml" has more than 4,000,000 bytes unpacked, the most that is read',
    );
  });

  test("whose list claims a small size are stopped all the same", () => {
    const zeros = new Uint8Array(LIMITS.xmlUnpackedBytes.most + 1);
    const bomb = zipped({ "tune.xml": zeros });
    // Size unpacked: byte 24 of the entry in the list of contents (APPNOTE 4.3.12).
    const lying = patched(bomb, lastOf(bomb, [0x50, 0x4b, 1, 2]) + 24, [10, 0, 0, 0]);
    expect(reasonOf(lying)).toContain("more than 4,000,000 bytes unpacked");
  });

  test("of too many files are refused", () => {
    const files = Object.fromEntries(
      Array.from({ length: LIMITS.zipEntries.most + 1 }, (_, at) => [`${at}.xml`, ""]),
    );
    expect(reasonOf(zipped(files))).toBe("the compressed file holds 1,001 files; at most 1,000 are read");
  });

  test("are never unpacked to a path, whatever name they give", () => {
    const outside = CONTAINER.replace("score.musicxml", "../../outside.musicxml");
    expect(reasonOf(zipped({ "META-INF/container.xml": outside, "score.musicxml": good }))).toContain(
      'names "../../outside.musicxml", which is not in the compressed file',
    );
    const inside = readMusicXml(
      zipped({ "META-INF/container.xml": outside, "../../outside.musicxml": good }),
    );
    expect(inside.kind).toBe("tunes");
  });

  test("without a score say so", () => {
    expect(reasonOf(zipped({ "readme.txt": "hello" }))).toBe(
      "the compressed file has no META-INF/container.xml, and no score to take instead",
    );
    expect(reasonOf(zipped({ "META-INF/container.xml": "<container/>", "a.xml": good }))).toContain(
      "names no score",
    );
  });

  test("locked by a password or packed in an unusual way are refused by name", () => {
    const lone = zipped({ "tune.xml": good });
    const entry = lastOf(lone, [0x50, 0x4b, 1, 2]);
    // Flags: byte 8, bit 0; method: byte 10; 12 is bzip2 (APPNOTE 4.4.4, 4.4.5).
    expect(reasonOf(patched(lone, entry + 8, [1]))).toBe('"tune.xml" is locked by a password');
    expect(reasonOf(patched(lone, entry + 10, [12]))).toBe(
      '"tune.xml" is packed by method 12; only "deflate" is read',
    );
  });

  test("whose packed bytes are damaged are refused", () => {
    const lone = zipped({ "tune.xml": good });
    expect(reasonOf(patched(lone, 60, [0xff, 0xff, 0xff, 0xff, 0xff]))).toMatch(
      /^(the compressed file is broken: "tune.xml" cannot be unpacked|line \d+, column \d+: )/,
    );
  });
});
