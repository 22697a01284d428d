import { describe, expect, test } from "vitest";
import type { DelayInUse } from "../../../core/delay/measured-delays.ts";
import { dbfs, hz, milliseconds, seconds } from "../../../core/units.ts";
import type { DevicesState } from "../../../renderer/audio/sound-devices.ts";
import { dbfsWords, findingsOf, verdictOf } from "../../../renderer/sound-check/findings.ts";
import { NO_LEVELS } from "../../../renderer/sound-check/level-follower.ts";
import { faultWords, outcomeWords, phraseWords } from "../../../renderer/sound-check/outcome-words.ts";
import { CLOSED, type SoundCheckState } from "../../../renderer/sound-check/sound-check-state.ts";

const SPEAKER = { id: "s", name: "Loudspeaker", group: "g" };
const DEVICES: DevicesState = {
  input: { present: [], chosen: null, used: null, isAway: false },
  output: { present: [SPEAKER], chosen: null, used: SPEAKER, isAway: false },
  canChooseOutput: true,
  trouble: null,
};
const OPEN = {
  kind: "open" as const,
  name: "Desk microphone",
  insteadOf: null,
  refused: [] as readonly string[],
  sampleRateHz: 48_000,
};
const WELL: SoundCheckState = {
  ...CLOSED,
  microphone: OPEN,
  levels: { ...NO_LEVELS, noteDbfs: -24, noiseDbfs: -62, nowDbfs: -60 },
};
const MEASURED: DelayInUse = {
  kind: "measured",
  delayMs: milliseconds(43.2),
  measured: {
    inputName: "Desk microphone",
    outputName: "Loudspeaker",
    sampleRateHz: hz(48_000),
    delayMs: milliseconds(43.2),
    spreadMs: milliseconds(0.1),
    way: "loudspeaker",
    atEpochMs: 0,
  },
};

const withLevels = (levels: Partial<SoundCheckState["levels"]>): SoundCheckState => ({
  ...WELL,
  levels: { ...WELL.levels, ...levels },
});

describe("the four lines", () => {
  test("are all well in a good set-up, and the sentence says so", () => {
    const findings = findingsOf(WELL, DEVICES, MEASURED, 0.03);
    expect(Object.values(findings).map(({ kind }) => kind)).toEqual(["ok", "ok", "ok", "ok"]);
    expect(findings.noise.words).toBe("The room is at −62 dBFS, your notes 38 dB above it."); // [calc] 62 - 24
    expect(findings.delay.words).toMatch(/^43 ms, measured by loudspeaker/);
    expect(verdictOf(WELL, findings)).toBe("This set-up hears you well.");
  });

  test("know nothing while the microphone is closed, and the sentence says why it is", () => {
    const findings = findingsOf(CLOSED, DEVICES, null, 0);
    expect(Object.values(findings).every(({ kind }) => kind === "open")).toBe(true);
    expect(verdictOf(CLOSED, findings)).toMatch(/hear you well enough\?$/);
    const denied = { ...CLOSED, microphone: { kind: "closed" as const, trouble: "It is not allowed." } };
    expect(verdictOf(denied, findings)).toBe("It is not allowed.");
  });

  test.each([
    [withLevels({ noteDbfs: null }), "level", "open", /Play a note/],
    [withLevels({ noteDbfs: -55 }), "level", "mend", /−55 dBFS: too quiet\. Come nearer/],
    [withLevels({ clipped: true }), "level", "mend", /Clipping\. Move away/],
    [withLevels({ silent: true }), "level", "mend", /No sound at all\. .*settings/],
    [withLevels({ noiseDbfs: null }), "noise", "open", /silent/],
    [withLevels({ noiseDbfs: -40 }), "noise", "mend", /only|too loud/],
    [withLevels({ noteDbfs: null, noiseDbfs: -38 }), "noise", "mend", /too loud/],
    [withLevels({ noteDbfs: null, noiseDbfs: -60 }), "noise", "ok", /−60 dBFS\.$/],
    [
      { ...WELL, microphone: { ...OPEN, refused: ["automatic gain", "noise suppression"] } },
      "device",
      "mend",
      /will not turn off automatic gain and noise suppression/,
    ],
    [
      { ...WELL, microphone: { ...OPEN, insteadOf: "Headset" } },
      "device",
      "mend",
      /^Headset is not there; Desk microphone is used/,
    ],
    [{ ...WELL, microphone: { ...OPEN, name: "Hands-free headset" } }, "device", "mend", /without a wire/],
  ] as const)("%# tell what is and what to do: %s", (state, line, kind, words) => {
    const finding = findingsOf(state, DEVICES, MEASURED, 0.03)[line];
    expect(finding.kind).toBe(kind);
    expect(finding.words).toMatch(words);
  });

  test("warn of sound without a wire, by its name and by how late it comes", () => {
    const bluetooth = { ...DEVICES.output, used: { ...SPEAKER, name: "Headphones (Bluetooth)" } };
    expect(findingsOf(WELL, { ...DEVICES, output: bluetooth }, MEASURED, 0).device.kind).toBe("mend");
    expect(findingsOf(WELL, DEVICES, MEASURED, 0.2).device.words).toMatch(/without a wire sound late/);
  });

  test("say that a chosen loudspeaker is away, and what is used", () => {
    const output = { ...DEVICES.output, isAway: true, chosen: { id: "p", name: "Headphones", group: "" } };
    expect(findingsOf(WELL, { ...DEVICES, output }, MEASURED, 0).device.words).toBe(
      "Headphones is not there; sound goes out by Loudspeaker.",
    );
  });

  test("say which delay is used: by hand, played along and less sure, or none, for this pair or for any", () => {
    const words = (delay: DelayInUse) => findingsOf(WELL, DEVICES, delay, 0).delay;
    expect(words({ kind: "by hand", delayMs: milliseconds(60) }).words).toMatch(/^60 ms, set by hand/);
    const along = { ...MEASURED.measured, way: "played along" as const, spreadMs: milliseconds(14.2) };
    expect(words({ ...MEASURED, measured: along }).words).toMatch(
      /give or take 15.*less sure: people play a little early/,
    );
    expect(words({ kind: "unknown", delayMs: milliseconds(0), others: 0 })).toMatchObject({ kind: "mend" });
    expect(words({ kind: "unknown", delayMs: milliseconds(0), others: 2 }).words).toMatch(
      /Not measured for this microphone and loudspeaker/,
    );
  });

  test("are counted in the sentence, and what is under way goes before", () => {
    const unknown: DelayInUse = { kind: "unknown", delayMs: milliseconds(0), others: 0 };
    const of = (state: SoundCheckState, delay: DelayInUse = unknown) =>
      verdictOf(state, findingsOf(state, DEVICES, delay, 0));
    expect(of(WELL)).toBe("Not yet: one thing to do.");
    expect(of(withLevels({ noteDbfs: -60 }))).toBe("Not yet: 3 things to do.");
    expect(of(withLevels({ noteDbfs: null }), MEASURED)).toBe("Play a note.");
    expect(of({ ...WELL, activity: { kind: "phrase", share: 0.2 } })).toBe("Play the phrase now.");
  });
});

describe("in words", () => {
  test.each([
    [-23.4, "−23 dBFS"],
    [0, "0 dBFS"],
    [-0.4, "0 dBFS"],
    [-140, "less than −90 dBFS"],
    [Number.NEGATIVE_INFINITY, "less than −90 dBFS"],
  ])("a level of %d is %s", (level, words) => {
    expect(dbfsWords(level)).toBe(words);
  });

  test("measuring that failed says what to do next", () => {
    const unheard = { way: "loudspeaker", found: { kind: "not heard", clearBursts: 1, bursts: 6 } } as const;
    expect(outcomeWords(unheard, -36)).toMatch(/1 times of 6.*louder\.$/);
    expect(outcomeWords(unheard, -12)).toMatch(/play along/);
    const nothing = { ...unheard, found: { ...unheard.found, clearBursts: 0 } };
    expect(outcomeWords(nothing, -36)).toMatch(/^The bursts were not heard\. Bring the microphone/);
    const slips = { kind: "unsteady", spreadSeconds: seconds(0.0123), clearBursts: 6 } as const;
    expect(outcomeWords({ way: "loudspeaker", found: slips }, -36)).toMatch(/12\.3 ms apart/);
    const few = { kind: "too few", usedBeats: 3, beats: 8 } as const;
    expect(outcomeWords({ way: "played along", found: few }, -36)).toMatch(/^Only 3 of 8 beats/);
    const uneven = { kind: "uneven", spreadSeconds: seconds(0.06) } as const;
    expect(outcomeWords({ way: "played along", found: uneven }, -36)).toMatch(/60 ms: too uneven/);
    const ahead = { kind: "ahead", aheadSeconds: seconds(0.08) } as const;
    expect(outcomeWords({ way: "played along", found: ahead }, -36)).toMatch(/80 ms before the beat/);
  });

  test("the phrase is good enough only where nothing is in doubt", () => {
    const report = { faults: [], notes: 10, levelDbfs: dbfs(-24), noiseFloorDbfs: dbfs(-62) };
    expect(phraseWords(report, 0)).toBe("Good enough: 10 notes heard at −24 dBFS.");
    expect(phraseWords(report, 1)).toBe("10 notes heard at −24 dBFS, but:");
    const quiet = { kind: "too quiet", levelDbfs: dbfs(-56) } as const;
    expect(phraseWords({ ...report, faults: [quiet] }, 0)).toBe("Not good enough yet:");
    expect(faultWords(quiet)).toMatch(/−56 dBFS\. Come nearer/);
    expect(faultWords({ kind: "held notes break off", longestSeconds: seconds(0.62) })).toMatch(
      /after 0\.6 s.*noise suppression/,
    );
    expect(faultWords({ kind: "dropouts", dropouts: 3 })).toMatch(/3 times/);
    expect(faultWords({ kind: "few notes", heard: 1 })).toMatch(/^Only 1 note was heard/);
  });
});
