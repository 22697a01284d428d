import { describe, expect, test } from "vitest";
import { type MusicXmlChoices, readMusicXml } from "../../../core/tune/read-musicxml.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../core/tune/tune.ts";
import { begin, bytesOf, CONTAINER, measure, note, score, zipped } from "../../support/musicxml.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;

function tuneOf(bytes: Uint8Array, choices?: MusicXmlChoices): Tune {
  const read = readMusicXml(bytes, choices);
  const [only] = read.kind === "tunes" ? read.tunes : [];
  if (only === undefined) throw new Error(read.kind === "tunes" ? "no tune" : read.reason);
  return only;
}

const read = (measures: string, head = "") => tuneOf(bytesOf(score(measures, head)));

/** Name, onset and length in quavers. */
const line = (tune: Tune) =>
  tune.notes.map((one) => [one.name, one.startTicks / QUAVER, one.lengthTicks / QUAVER] as const);
const names = (tune: Tune) => tune.notes.map((one) => one.name).join(" ");
const words = (tune: Tune) => tune.remarks.map((one) => one.words);

const whole = (name: string) => measure(note(name, 8));
const G = begin(note("G4", 8));

/** Barline elements as the W3C's examples have them. */
const forward =
  '<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>';
const backward = (attributes = "") =>
  `<barline location="right"><bar-style>light-heavy</bar-style><repeat direction="backward"${attributes}/></barline>`;
const ending = (number: string, type: string, location: string, more = "") =>
  `<barline location="${location}"><ending number="${number}" type="${type}"/>${more}</barline>`;
const soundOf = (attributes: string) => `<sound ${attributes}/>`;

const ornaments = (tune: Tune) =>
  tune.notes.map((one) => one.ornaments.map(({ kind, notes }) => [kind, notes.map(({ name }) => name)]));

describe("notes", () => {
  test("have the length of their duration, in divisions of a crotchet", () => {
    // Elements divisions, duration, pitch, rest. [calc] Two divisions a crotchet: a division is a quaver.
    const tune = read(
      begin(`${note("G4", 2) + note("F#4", 1)}<note><rest/><duration>1</duration></note>${note("Bb4", 4)}`),
    );
    expect(line(tune)).toEqual([
      ["G4", 0, 2],
      ["F#4", 2, 1],
      ["Bb4", 4, 4],
    ]);
  });

  test("that are tied sound once", () => {
    // Element tie.
    const tune = read(
      begin(note("G4", 8, '<tie type="start"/>')) +
        measure(note("G4", 2, '<tie type="stop"/>') + note("A4", 6)),
    );
    expect(line(tune)).toEqual([
      ["G4", 0, 10],
      ["A4", 10, 6],
    ]);
  });

  test("drawn as tied in a file without tie are tied", () => {
    // Element tied.
    const tied = '<notations><tied type="start"/></notations>';
    expect(line(read(begin(note("G4", 4, tied) + note("G4", 4))))).toEqual([["G4", 0, 8]]);
  });

  test("of a chord are one note of the tune, the highest", () => {
    // Element chord: begins with the note before it.
    const tune = read(begin(note("G4", 8) + note("D5", 8, "", "<chord/>") + note("B4", 8, "", "<chord/>")));
    expect(tune.notes.map((one) => [one.name, one.chord])).toEqual([["D5", [67, 71]]]);
  });

  test("of grace are an ornament of the next and take no time", () => {
    // Element grace: no duration.
    const grace =
      '<note><grace slash="yes"/><pitch><step>A</step><octave>4</octave></pitch><voice>1</voice></note>';
    const [first] = read(begin(grace + note("G4", 8))).notes;
    expect([first?.startTicks, first?.ornaments]).toEqual([
      0,
      [{ kind: "grace", notes: [{ midi: 69, name: "A4" }] }],
    ]);
  });

  test("of grace that no note follows end the note before: at a rest, a repeat, the end", () => {
    const grace = "<note><grace/><pitch><step>A</step><octave>4</octave></pitch><voice>1</voice></note>";
    const rest = "<note><rest/><duration>4</duration><voice>1</voice></note>";
    const repeat = '<barline location="right"><repeat direction="backward"/></barline>';
    const ends = [[["after-grace", ["A4"]]]];
    for (const text of [note("G4", 4) + grace + rest, note("G4", 8) + grace]) {
      expect(ornaments(read(begin(text)))).toEqual(ends);
    }
    const repeated = read(begin(note("G4", 8) + grace + repeat) + measure(note("B4", 8)));
    expect(ornaments(repeated)).toEqual([...ends, ...ends, []]);
    expect(words(read(begin(grace + rest + note("G4", 4))))).toContain(
      "grace notes have no note to belong to and are left out",
    );
  });

  test("of a cue are not played", () => {
    // Element cue.
    expect(line(read(begin(note("D5", 4, "", "<cue/>") + note("G4", 4))))).toEqual([["G4", 4, 4]]);
  });

  test("go back and forward in time where the file does", () => {
    // Elements backup and forward: the second voice is written over the first.
    const second = `${note("B3", 4, "<voice>2</voice>")}<forward><duration>4</duration></forward>`;
    const content = `${note("G4", 8, "<voice>1</voice>")}<backup><duration>8</duration></backup>${second}`;
    const tune = read(begin(content) + measure(note("A4", 8, "<voice>1</voice>")));
    expect(line(tune)).toEqual([
      ["G4", 0, 8],
      ["A4", 8, 8],
    ]);
    expect(words(tune)).toContain('of the voices "1", "2" only "1" is read');
    expect(names(tuneOf(bytesOf(score(begin(content))), { voice: "2" }))).toBe("B3");
  });

  test("keep their place in time where divisions change within a bar", () => {
    const tune = read(
      begin(`${note("G4", 4)}<attributes><divisions>4</divisions></attributes>${note("A4", 8)}`),
    );
    // [calc] 8 of 4 a crotchet are 2 crotchets: 4 quavers.
    expect(line(tune)).toEqual([
      ["G4", 0, 4],
      ["A4", 4, 4],
    ]);
  });

  test("of quarter tones are rounded, and it is said", () => {
    const quarter = note("G4", 8).replace("</step>", "</step><alter>0.5</alter>");
    expect(words(read(begin(quarter)))).toContain("pitches between two keys of a piano are rounded");
  });

  test("have their ornaments by ABC's names", () => {
    // Elements ornaments/inverted-mordent, articulations/staccato, technical/down-bow, fermata.
    const notations =
      "<notations><ornaments><inverted-mordent/></ornaments><articulations><staccato/></articulations><technical><down-bow/></technical><fermata/></notations>";
    expect(read(begin(note("G4", 8, notations))).notes[0]?.ornaments.map((one) => one.kind)).toEqual([
      "uppermordent",
      "staccato",
      "downbow",
      "fermata",
    ]);
  });

  test("of a transposing part are as they sound", () => {
    // Element transpose; a clarinet in B flat sounds a whole tone lower: C major written is B flat major.
    const clarinet =
      "<key><fifths>0</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>";
    const tune = read(begin(note("E4", 4) + note("C5", 4), clarinet, ""));
    expect(names(tune)).toBe("D4 Bb4");
    expect(tune.key).toEqual({ tonic: "Bb", mode: "major", signature: { B: -1, E: -1 }, sure: true });
  });

  test("of a part written an octave lower sound in theirs", () => {
    const high =
      "<key><fifths>0</fifths></key><transpose><chromatic>0</chromatic><octave-change>1</octave-change></transpose>";
    expect(names(read(begin(note("G4", 8), high)))).toBe("G5");
  });
});

describe("the order of playing", () => {
  test("repeats what stands between repeat elements", () => {
    expect(
      names(read(begin(forward + note("G4", 8)) + measure(note("A4", 8) + backward()) + whole("B4"))),
    ).toBe("G4 A4 G4 A4 B4");
  });

  test("repeats as often as times says", () => {
    expect(names(read(begin(note("G4", 8) + backward(' times="3"'))))).toBe("G4 G4 G4");
  });

  test("takes each ending on its passes", () => {
    const tune = read(
      begin(forward + note("G4", 8)) +
        measure(
          ending("1, 3", "start", "left") +
            note("A4", 8) +
            ending("1, 3", "stop", "right", '<repeat direction="backward"/>'),
        ) +
        measure(ending("2", "start", "left") + note("B4", 8) + ending("2", "discontinue", "right")),
    );
    expect(names(tune)).toBe("G4 A4 G4 B4 G4 A4");
  });

  test("follows da capo to fine", () => {
    // Attributes dacapo and fine of the element sound.
    const tune = read(
      begin(note("G4", 8) + soundOf('fine="yes"')) + measure(note("A4", 8) + soundOf('dacapo="yes"')),
    );
    expect(names(tune)).toBe("G4 A4 G4");
  });

  test("follows dal segno to the coda", () => {
    // Attributes segno, tocoda, dalsegno, coda of the element sound.
    const tune = read(
      G +
        measure(soundOf('segno="s"') + note("A4", 8) + soundOf('tocoda="c"')) +
        measure(note("B4", 8) + soundOf('dalsegno="s"')) +
        measure(soundOf('coda="c"') + note("C5", 8)),
    );
    expect(names(tune)).toBe("G4 A4 B4 A4 C5");
  });

  test("reads the usual words where a file has no sound element", () => {
    const say = (text: string) =>
      `<direction><direction-type><words>${text}</words></direction-type></direction>`;
    const tune = read(begin(note("G4", 8) + say("Fine")) + measure(note("A4", 8) + say("D.C. al Fine")));
    expect(names(tune)).toBe("G4 A4 G4");
  });
});

describe("bars", () => {
  test("before the first whole one are an upbeat, and the last ends short by the same", () => {
    // [calc] 4/4: a crotchet before, three at the end.
    const tune = read(begin(note("D4", 2)) + whole("G4") + measure(note("A4", 6)));
    expect(tune.bars.map((bar) => bar.kind)).toEqual(["pick-up", "whole", "short end"]);
  });

  test("are as long as their longest voice", () => {
    const tune = read(begin(note("G4", 4)) + whole("A4"));
    expect(tune.bars.map((bar) => bar.startTicks / QUAVER)).toEqual([0, 4]);
  });

  test("begin a strain after a double bar line", () => {
    const double = '<barline location="right"><bar-style>light-light</bar-style></barline>';
    expect(read(begin(note("G4", 8) + double) + whole("A4")).bars.map((bar) => bar.strain)).toEqual([
      "A",
      "B",
    ]);
  });

  test("of changing metre keep theirs", () => {
    const three = "<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>";
    expect(read(G + measure(three + note("A4", 6))).bars.map((bar) => bar.metre)).toEqual([
      { beats: 4, unit: 4 },
      { beats: 3, unit: 4 },
    ]);
  });

  test("of a metre that is a sum have its beats", () => {
    const five = "<time><beats>3+2</beats><beat-type>8</beat-type></time>";
    expect(read(begin(note("G4", 5), "", five)).metre).toEqual({ beats: 5, unit: 8 });
  });

  test("of a free metre have none", () => {
    expect(read(begin(note("G4", 5), "", "<time><senza-misura/></time>")).metre).toBeNull();
  });
});

describe("the key", () => {
  const keyed = (key: string, last: string) =>
    read(begin(note("G4", 4) + note(last, 4), `<key>${key}</key>`)).key;

  test("is sure where the mode is named and the tune ends on its home note", () => {
    expect(keyed("<fifths>1</fifths><mode>dorian</mode>", "A4")).toEqual({
      tonic: "A",
      mode: "dorian",
      signature: { F: 1 },
      sure: true,
    });
  });

  test("is the file's but to be asked where the tune ends elsewhere", () => {
    expect(keyed("<fifths>1</fifths><mode>major</mode>", "A4")).toMatchObject({
      tonic: "G",
      mode: "major",
      sure: false,
    });
  });

  test("without a mode goes by the last note, to be asked", () => {
    expect(keyed("<fifths>1</fifths>", "A4")).toMatchObject({ tonic: "A", mode: "dorian", sure: false });
  });

  test("calls ionian major and aeolian minor", () => {
    expect(keyed("<fifths>1</fifths><mode>aeolian</mode>", "E4")).toMatchObject({
      tonic: "E",
      mode: "minor",
      sure: true,
    });
  });

  test("can list its accidentals", () => {
    // Elements key-step, key-alter.
    const own =
      "<key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter>";
    expect(keyed(own, "D4")).toEqual({ tonic: "D", mode: null, signature: { F: 1, B: -1 }, sure: false });
  });
});

describe("chord symbols and tempo", () => {
  test("stand where the harmony element does", () => {
    // Elements harmony, root, root-step, root-alter, kind, bass, offset.
    const am7 =
      '<harmony><root><root-step>A</root-step></root><kind text="m7">minor-seventh</kind></harmony>';
    const dOverF =
      "<harmony><root><root-step>D</root-step></root><kind>dominant</kind><bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass><offset>2</offset></harmony>";
    const tune = read(begin(am7 + note("G4", 4) + dOverF + note("A4", 4)));
    expect(tune.chords.map((one) => [one.symbol, one.atTicks / QUAVER])).toEqual([
      ["Am7", 0],
      // [calc] After 4 quavers, offset by 2 divisions of a quaver.
      ["D7/F#", 6],
    ]);
  });

  test("tempo is the metronome's, in its own beat", () => {
    const mark =
      '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>c. 116</per-minute></metronome></direction-type><sound tempo="174"/></direction>';
    expect(read(begin(mark + note("G4", 8)))).toMatchObject({
      tempo: { noteValue: "3/8", bpm: 116 },
      tempoFrom: "tune",
    });
  });

  test("tempo of a sound element counts crotchets, and is told in the beat of the metre", () => {
    const jig = "<time><beats>6</beats><beat-type>8</beat-type></time>";
    // [calc] 174 crotchets are 116 dotted ones.
    expect(read(begin(`<sound tempo="174"/>${note("G4", 6)}`, "", jig)).tempo).toEqual({
      noteValue: "3/8",
      bpm: 116,
    });
  });

  test("without a tempo the dance's usual one is taken, and said to be", () => {
    const slipJig = "<time><beats>9</beats><beat-type>8</beat-type></time>";
    expect(read(begin(note("G4", 9), "", slipJig))).toMatchObject({ dance: "slip-jig", tempoFrom: "dance" });
  });
});

describe("people and names", () => {
  test("titles, creators and rights", () => {
    const head =
      '<work><work-title>Band Room</work-title></work><movement-title>Second Figure</movement-title><identification><creator type="composer">a member</creator><creator type="arranger">another</creator><rights>the band</rights></identification>';
    expect(read(G, head)).toMatchObject({
      title: "Band Room",
      otherTitles: ["Second Figure"],
      fields: [
        { kind: "composer", text: "a member" },
        { kind: "transcription", text: "another" },
        { kind: "copyright", text: "the band" },
      ],
    });
  });

  const twoParts = `<score-partwise><part-list><score-part id="P1"><part-name>Bass</part-name></score-part><score-part id="P2"><part-name>Fiddle</part-name></score-part></part-list>
    <part id="P1">${begin(note("G2", 8))}</part><part id="P2">${begin(note("B4", 8))}</part></score-partwise>`;

  test("the first part is read and the others are named", () => {
    const tune = tuneOf(bytesOf(twoParts));
    expect([names(tune), words(tune)[0]]).toEqual([
      "G2",
      'of the parts "Bass", "Fiddle" only "Bass" is read',
    ]);
  });

  test("another part is read by its id or its name", () => {
    expect(names(tuneOf(bytesOf(twoParts), { part: "P2" }))).toBe("B4");
    expect(names(tuneOf(bytesOf(twoParts), { part: "Fiddle" }))).toBe("B4");
    expect(readMusicXml(bytesOf(twoParts), { part: "Harp" })).toEqual({
      kind: "unreadable",
      reason: 'no part is called "Harp"; there are "Bass", "Fiddle"',
    });
  });
});

describe("files", () => {
  test("by time are turned round", () => {
    // Element score-timewise: parts within measures.
    const byTime = `<score-timewise><part-list><score-part id="P1"><part-name>Melody</part-name></score-part></part-list>
      <measure number="1"><part id="P1"><attributes><divisions>1</divisions></attributes>${note("G4", 4)}</part></measure>
      <measure number="2"><part id="P1">${note("A4", 4)}</part></measure></score-timewise>`;
    expect(names(tuneOf(bytesOf(byTime)))).toBe("G4 A4");
  });

  test("compressed are unpacked by what their container names", () => {
    const packed = zipped({
      "META-INF/container.xml": CONTAINER,
      "score.musicxml": score(G),
      "other.xml": "<no/>",
    });
    expect(names(tuneOf(packed))).toBe("G4");
  });

  test("compressed without a container hold their only score", () => {
    expect(names(tuneOf(zipped({ "tune.xml": score(G) })))).toBe("G4");
  });

  test("in UTF-16 with a byte order mark are read", () => {
    const text = score(G, "<work><work-title>Tänze</work-title></work>").replace("UTF-8", "UTF-16");
    const bytes = new Uint8Array(2 + 2 * text.length);
    bytes.set([0xff, 0xfe]);
    for (let at = 0; at < text.length; at++) {
      bytes[2 + 2 * at] = text.charCodeAt(at) & 0xff;
      bytes[3 + 2 * at] = text.charCodeAt(at) >> 8;
    }
    expect(tuneOf(bytes).title).toBe("Tänze");
  });

  test("with the public DOCTYPE are read without fetching it", () => {
    const doctype =
      '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';
    expect(names(tuneOf(bytesOf(score(G).replace("?>", `?>${doctype}`))))).toBe("G4");
  });
});
