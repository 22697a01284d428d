import * as v from "valibot";
import type { MeasuredDelay } from "../../core/delay/measured-delays.ts";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import type { BendMark, TabForm } from "../../core/instrument/tab.ts";
import { NOTE_NAMINGS, type NoteNaming } from "../../core/pitch/note-naming.ts";
import { LEAST_MINUTES, MOST_MINUTES } from "../../core/progress/plan/plan.ts";
import type { Turns } from "../../core/progress/plan/plan-shape.ts";
import { WAYS, type Way } from "../../core/score/attempt.ts";
import { hz, milliseconds } from "../../core/units.ts";
import type { BeatSound } from "../audio/beat-sound.ts";
import type { SoundDevice } from "../audio/sound-device.ts";
import { USUAL_WHEN_AWAY, WHEN_AWAY, type WhenAway } from "../audio/when-away.ts";
import { orTrouble } from "./store-trouble.ts";
import type { Tables } from "./tables.ts";
import { written } from "./written.ts";

const deviceShape = v.nullable(v.object({ id: v.string(), name: v.string(), group: v.string() }));

const delayShape = v.object({
  inputName: v.string(),
  outputName: v.string(),
  sampleRateHz: v.pipe(v.number(), v.minValue(8000), v.maxValue(192_000), v.transform(hz)),
  delayMs: v.pipe(v.number(), v.minValue(0), v.maxValue(1000), v.transform(milliseconds)),
  spreadMs: v.pipe(v.number(), v.minValue(0), v.maxValue(1000), v.transform(milliseconds)),
  way: v.picklist(["loudspeaker", "played along"]),
  atEpochMs: v.pipe(v.number(), v.minValue(0)),
});

/** What text may be set to, in per cent of its usual size. */
export const TEXT_PERCENTS = [100, 125, 150, 200] as const;

/** Room for takes, in millions of bytes. A minute takes some three, packed: there is room for eleven hours at first. */
export const TAKES_LIMIT_MB = { low: 10, high: 1_000_000, usual: 2000 } as const;

const settingsShape = v.object({
  a4Hz: v.pipe(v.number(), v.minValue(400), v.maxValue(480)),
  latencyMs: v.pipe(v.number(), v.minValue(0), v.maxValue(1000)),
  measuredDelays: v.array(delayShape),
  input: deviceShape,
  output: deviceShape,
  loudnessDb: v.pipe(v.number(), v.minValue(-60), v.maxValue(0)),
  beatWhilePlaying: v.picklist(["heard", "seen"]),
  way: v.picklist(WAYS),
  begin: v.picklist(["key", "held note"]),
  againAfterSeconds: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(60)),
  backing: v.picklist(["heard", "silent"]),
  ladder: v.object({
    rightShare: v.pipe(v.number(), v.minValue(0.5), v.maxValue(1)),
    spreadMs: v.pipe(v.number(), v.minValue(5), v.maxValue(200)),
    inARow: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(10)),
  }),
  pathWeights: v.nullable(v.record(v.string(), v.number())),
  keys: v.nullable(v.record(v.string(), v.array(v.string()))),
  look: v.picklist(["system", "light", "dark"]),
  textPercent: v.picklist(TEXT_PERCENTS),
  noteNames: v.picklist(NOTE_NAMINGS),
  tabForm: v.picklist(["signs", "both signs", "arrows", "letters"]),
  bendMarks: v.picklist(["quotes", "strokes"]),
  holeOne: v.picklist(["left", "right"]),
  beatSound: v.picklist(["click", "wood", "tone"]),
  barBeat: v.picklist(["stressed", "as the others"]),
  microphoneAway: v.picklist(WHEN_AWAY),
  planMinutes: v.pipe(v.number(), v.integer(), v.minValue(LEAST_MINUTES), v.maxValue(MOST_MINUTES)),
  planTurns: v.picklist(["mixed", "blocked"]),
  takesLimitMb: v.pipe(v.number(), v.minValue(TAKES_LIMIT_MB.low), v.maxValue(TAKES_LIMIT_MB.high)),
  firstSteps: v.record(v.string(), v.picklist(["done", "skipped"])),
  cautionsRead: v.array(v.string()),
  lastDrill: v.nullable(v.record(v.string(), v.union([v.string(), v.number(), v.boolean()]))),
  lastInstrument: v.nullable(v.record(v.string(), v.unknown())),
  lastRetuning: v.nullable(v.record(v.string(), v.unknown())),
  lastDesign: v.nullable(v.record(v.string(), v.unknown())),
  dayPlan: v.nullable(v.record(v.string(), v.unknown())),
});

/** What the player has set, kept between visits. */
export interface Settings {
  /** Frequency of A4, 400 to 480 Hz. */
  readonly a4Hz: number;
  /** Delay of the sound path set by hand, taken off every onset; 0 where none is set and the measured one counts. */
  readonly latencyMs: number;
  /** Delays measured in the sound check, the latest first. */
  readonly measuredDelays: readonly MeasuredDelay[];
  /** The microphone the player chose; null for the system's own. */
  readonly input: SoundDevice | null;
  /** The loudspeaker or headphones the player chose; null for the system's own. */
  readonly output: SoundDevice | null;
  /** Loudness of reference and beat, dB re full scale, at most 0. */
  readonly loudnessDb: number;
  /** Whether the beat sounds after the count-in, or is only seen. */
  readonly beatWhilePlaying: "heard" | "seen";
  /** How exercises are played where they can be. */
  readonly way: Way;
  /** What begins a take: a key or pedal, or a note held as well. */
  readonly begin: "key" | "held note";
  /** Pause after the marks, after which the next round begins by itself; 0 for none. */
  readonly againAfterSeconds: number;
  /** Whether the chords of a tune sound with it where it is heard. */
  readonly backing: "heard" | "silent";
  /** When a rung of a tune's ladder is climbed. */
  readonly ladder: { readonly rightShare: number; readonly spreadMs: number; readonly inARow: number };
  /** What makes a breath path hard, where the player has changed it; whoever reads it checks it. */
  readonly pathWeights: Readonly<Record<string, number>> | null;
  /** The keys of every verb, where the player has changed them; whoever reads them checks them. */
  readonly keys: Readonly<Record<string, readonly string[]>> | null;
  /** Light or dark paper, or as the system has it. */
  readonly look: "system" | "light" | "dark";
  /** Size of text, in per cent of the usual. */
  readonly textPercent: (typeof TEXT_PERCENTS)[number];
  readonly noteNames: NoteNaming;
  readonly tabForm: Exclude<TabForm, "words">;
  readonly bendMarks: BendMark;
  /** The side hole 1 is drawn on. */
  readonly holeOne: "left" | "right";
  readonly beatSound: BeatSound;
  /** Whether the first beat of a bar sounds higher and louder. */
  readonly barBeat: "stressed" | "as the others";
  /** What becomes of an open microphone while the window is not looked at. */
  readonly microphoneAway: WhenAway;
  /** Minutes a day's plan is made for, whole, 5 to 120. */
  readonly planMinutes: number;
  /** Whether what is known takes turns in a plan, or comes one thing after the other. */
  readonly planTurns: Turns;
  /** Room for takes, in millions of bytes: beyond it the oldest without a star are dropped, never their marks. */
  readonly takesLimitMb: number;
  /** The first steps that are done or skipped, by name; the others are open. */
  readonly firstSteps: Readonly<Record<string, "done" | "skipped">>;
  /** Risks whose caution the player has read. */
  readonly cautionsRead: readonly string[];
  readonly lastDrill: Readonly<Record<string, string | number | boolean>> | null;
  /** What was looked at on the instrument screen, and the layout being changed there; whoever reads it checks it. */
  readonly lastInstrument: Readonly<Record<string, unknown>> | null;
  /** The harps of the retuning plan looked at last, and its rules; whoever reads it checks it. */
  readonly lastRetuning: Readonly<Record<string, unknown>> | null;
  /** What a layout was last designed for. */
  readonly lastDesign: Readonly<Record<string, unknown>> | null;
  /** The plan of the day as it was changed or begun, and how far it is; whoever reads it checks it. */
  readonly dayPlan: Readonly<Record<string, unknown>> | null;
}

/** Loudness begins low: headphones may be on. */
export const FIRST_SETTINGS: Settings = {
  a4Hz: 440,
  latencyMs: 0,
  measuredDelays: [],
  input: null,
  output: null,
  loudnessDb: -18,
  beatWhilePlaying: "heard",
  way: "in time",
  begin: "key",
  againAfterSeconds: 0,
  backing: "heard",
  ladder: { rightShare: USUAL_RULE.rightShare, spreadMs: USUAL_RULE.spreadMs, inARow: USUAL_RULE.inARow },
  pathWeights: null,
  keys: null,
  look: "system",
  textPercent: 100,
  noteNames: "letters",
  tabForm: "signs",
  bendMarks: "quotes",
  holeOne: "left",
  beatSound: "click",
  barBeat: "stressed",
  microphoneAway: USUAL_WHEN_AWAY,
  planMinutes: 30,
  planTurns: "mixed",
  takesLimitMb: TAKES_LIMIT_MB.usual,
  firstSteps: {},
  cautionsRead: [],
  lastDrill: null,
  lastInstrument: null,
  lastRetuning: null,
  lastDesign: null,
  dayPlan: null,
};

export interface SettingsStore {
  /** What was kept; a field that is absent or damaged has its first value. */
  load(): Promise<Settings>;
  save(settings: Settings): Promise<void>;
}

/** Settings from stored data of unknown shape, field by field. */
export function readSettings(stored: unknown): Settings {
  const whole = typeof stored === "object" && stored !== null ? stored : {};
  const fields = Object.entries(settingsShape.entries).flatMap(([name, shape]) => {
    const read = v.safeParse(shape, (whole as Record<string, unknown>)[name]);
    return read.success ? [[name, read.output] as const] : [];
  });
  return { ...FIRST_SETTINGS, ...Object.fromEntries(fields) };
}

export class DexieSettingsStore implements SettingsStore {
  constructor(private readonly database: Tables) {}

  async load(): Promise<Settings> {
    return readSettings(
      (await orTrouble("the settings", () => this.database.settings.get("settings")))?.value,
    );
  }

  async save(settings: Settings): Promise<void> {
    await written(this.database, "the settings", () =>
      this.database.settings.put({ id: "settings", value: settings }),
    );
  }
}
