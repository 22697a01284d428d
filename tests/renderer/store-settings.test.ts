import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hz, milliseconds } from "../../core/units.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import {
  DexieSettingsStore,
  FIRST_SETTINGS,
  readSettings,
  type Settings,
} from "../../renderer/store/settings-store.ts";

const database = () => new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });

const CHOSEN: Settings = {
  a4Hz: 442,
  latencyMs: 38.5,
  measuredDelays: [
    {
      inputName: "Desk microphone",
      outputName: "Loudspeaker",
      sampleRateHz: hz(48_000),
      delayMs: milliseconds(43),
      spreadMs: milliseconds(0.5),
      way: "loudspeaker",
      atEpochMs: 1000,
    },
  ],
  input: { id: "a", name: "Desk microphone", group: "g" },
  output: null,
  loudnessDb: -12,
  beatWhilePlaying: "seen",
  way: "own pace",
  begin: "held note",
  againAfterSeconds: 5,
  backing: "silent",
  ladder: { rightShare: 0.95, spreadMs: 30, inARow: 3 },
  pathWeights: { bend: 3 },
  keys: { start: ["b"] },
  look: "dark",
  textPercent: 150,
  noteNames: "german",
  tabForm: "arrows",
  bendMarks: "strokes",
  holeOne: "right",
  beatSound: "wood",
  barBeat: "as the others",
  microphoneAway: "closes when behind",
  planMinutes: 45,
  planTurns: "blocked",
  takesLimitMb: 500,
  firstSteps: { harp: "done", microphone: "skipped" },
  cautionsRead: ["Hearing"],
  lastDrill: { key: "G", position: 2, bends: true },
  lastInstrument: { key: "A", draft: { now: { name: "my own" } } },
  lastRetuning: { ownId: "harp-1", passes: 4 },
  lastDesign: { mostSemitones: 3 },
  dayPlan: { plan: { day: "2026-11-28" } },
};

describe("settings", () => {
  test("are the first ones until something was kept, and quiet", async () => {
    const settings = await new DexieSettingsStore(database()).load();
    expect(settings).toEqual(FIRST_SETTINGS);
    // [P] headphones may be on: a first sound well below full scale.
    expect(settings.loudnessDb).toBeLessThanOrEqual(-18);
  });

  test("come back as they were kept", async () => {
    const store = new DexieSettingsStore(database());
    await store.save(CHOSEN);
    expect(await store.load()).toEqual(CHOSEN);
  });

  test.each([
    ["a4Hz", 4400],
    ["a4Hz", "442"],
    ["latencyMs", -1],
    ["latencyMs", Number.NaN],
    ["measuredDelays", [{ delayMs: 43 }]],
    ["input", "a microphone"],
    ["loudnessDb", 6],
    ["loudnessDb", Number.POSITIVE_INFINITY],
    ["beatWhilePlaying", "felt"],
    ["look", "sepia"],
    ["textPercent", 110],
    ["textPercent", "200"],
    ["noteNames", "H"],
    ["tabForm", "words"],
    ["bendMarks", null],
    ["holeOne", "top"],
    ["beatSound", "cow"],
    ["barBeat", true],
    ["microphoneAway", "listens on"],
    ["planMinutes", 4],
    ["planMinutes", 12.5],
    ["planTurns", "shuffled"],
    ["dayPlan", "a plan"],
    ["takesLimitMb", 9],
    ["takesLimitMb", Number.POSITIVE_INFINITY],
    ["firstSteps", { harp: "perhaps" }],
    ["cautionsRead", [7]],
    ["keys", { start: " " }],
    ["lastDrill", [{}]],
    ["lastDrill", { key: { nested: true } }],
    ["lastInstrument", "everything"],
    ["lastRetuning", 3],
    ["lastDesign", 3],
  ] as const)("a damaged %s (%s) falls back alone, the rest stays", (field, value) => {
    expect(readSettings({ ...CHOSEN, [field]: value })).toEqual({
      ...CHOSEN,
      [field]: FIRST_SETTINGS[field],
    });
  });

  test("an unknown field of a later version is left out", () => {
    expect(readSettings({ ...CHOSEN, later: 1 })).toEqual(CHOSEN);
  });

  test("whatever is stored, loudness never exceeds full scale and every number is one", () => {
    const stored = fc.oneof(
      fc.anything(),
      fc.record({ a4Hz: fc.anything(), latencyMs: fc.double(), loudnessDb: fc.double() }),
    );
    fc.assert(
      fc.property(stored, (value) => {
        const { a4Hz, latencyMs, loudnessDb } = readSettings(value);
        expect(loudnessDb).toBeLessThanOrEqual(0);
        for (const number of [a4Hz, latencyMs, loudnessDb]) expect(Number.isFinite(number)).toBe(true);
      }),
    );
  });
});
