import { boundRatio } from "../measures/cramer-rao.ts";
import { leakScore } from "../measures/leak-measures.ts";
import { median, quantile, sizes } from "../measures/statistics.ts";
import { type Summary, summarise } from "../measures/summary.ts";
import { FALSE_ALARM_SHARE, leaksOver } from "./leaks.ts";
import { liveOver, type SeedResult, scoreOver, TAKES, type Timed } from "./measured.ts";

/** What a figure is read from. */
export interface Evidence {
  readonly result: SeedResult;
  readonly timed: Timed;
  readonly engine: string;
}

/** One figure to reach. */
export interface Figure {
  readonly name: string;
  readonly unit: "%" | "in 1,000" | "cents" | "x bound" | "x real time" | "x" | "ms";
  readonly decimals: number;
  readonly sense: ">=" | "<=" | ">";
  readonly limit: number;
  /** Better still; null where none was set. */
  readonly goal: number | null;
  /** NaN where it was not measured. */
  readonly read: (evidence: Evidence) => number;
}

const over = (takes: RegExp, read: (summary: Summary) => number) => {
  return ({ result, engine }: Evidence) => read(summarise(scoreOver(result, engine, takes)));
};
const percentOver = (takes: RegExp, read: (summary: Summary) => number) => {
  const share = over(takes, read);
  return (evidence: Evidence) => 100 * share(evidence);
};

const share = (
  name: string,
  sense: Figure["sense"],
  limit: number,
  goal: number | null,
  read: Figure["read"],
  decimals = 1,
): Figure => ({ name, unit: "%", decimals, sense, limit, goal, read });

const ratioTo = (snrDb: number, lengthMs: number): Figure => ({
  name: `rms / Cramér-Rao bound, ${snrDb} dB, ${lengthMs} ms`,
  unit: "x bound",
  decimals: 2,
  sense: "<=",
  limit: 3,
  goal: null,
  read: ({ result, engine }) => {
    const { errors } = scoreOver(result, engine, new RegExp(`^steady${lengthMs}_white${snrDb}$`)).notes;
    return boundRatio(errors, lengthMs / 1000, snrDb);
  },
});

const leak = (name: string, limit: number, takes: RegExp): Figure =>
  share(`leaky notes found at 3 % false alarms: ${name}`, ">=", limit, null, ({ result, engine }) => {
    return 100 * leaksOver(result, engine, takes).foundAtLimit;
  });

/** Share of all leaks found at 3 % false alarms, dry and in reverberation, that name the right reed. */
function rightReed({ result, engine }: Evidence): number {
  const kinds = [/_leakmix12$/, /_leakmix20$/, /_leakmix12_reverb$/];
  let found = 0;
  let right = 0;
  for (const takes of kinds) {
    const {
      leaky,
      foundAtLimit,
      rightReed: named,
    } = leakScore(scoreOver(result, engine, takes).leaks, FALSE_ALARM_SHARE);
    if (!(foundAtLimit > 0)) continue;
    found += leaky * foundAtLimit;
    right += leaky * foundAtLimit * named;
  }
  return (100 * right) / found;
}

const bendP95 = ({ result, engine }: Evidence) => {
  const bends = scoreOver(result, engine, TAKES.recordedBends).bends;
  return bends === null ? Number.NaN : quantile([...sizes(bends.cents), ...missed(bends.gross)], 0.95);
};
const missed = (count: number) => new Array<number>(count).fill(Number.POSITIVE_INFINITY);

const speedOf = ({ timed }: Evidence, name: string) =>
  timed.speeds.find((one) => one.name === name)?.timesRealTime ?? Number.NaN;
const against = (peer: string) => (evidence: Evidence) =>
  speedOf(evidence, evidence.engine) / speedOf(evidence, peer);

const delay = (name: string, read: (evidence: Evidence) => number[]): Figure[] =>
  (["median", "p95"] as const).map((part) => ({
    name: `${name}: ${part === "median" ? "median" : "95 %"}`,
    unit: "ms",
    decimals: 1,
    sense: "<=",
    limit: part === "median" ? 40 : 55,
    goal: null,
    read: (evidence) => (part === "median" ? median(read(evidence)) : quantile(read(evidence), 0.95)),
  }));

/** The figures this program is to reach, in the order they were set. */
export const FIGURES: readonly Figure[] = [
  share(
    "raw pitch at 50 cents, all synthetic takes",
    ">=",
    98,
    99,
    percentOver(TAKES.synthetic, (s) => s.rawPitch50),
    2,
  ),
  {
    name: "gross notes, leak takes included",
    unit: "in 1,000",
    decimals: 2,
    sense: "<=",
    limit: 0,
    goal: null,
    read: over(TAKES.synthetic, (s) => 1000 * s.gross),
  },
  share(
    "note F1 at 50 ms and 50 cents, synthetic without tremolo",
    ">=",
    99,
    null,
    percentOver(TAKES.notTremolo, (s) => s.note50.f1),
    2,
  ),
  share(
    "note F1 at 25 ms: SNR >= 10 dB and laptop microphone",
    ">=",
    99.5,
    null,
    percentOver(TAKES.inNoiseOrLaptop, (s) => s.note25.f1),
    2,
  ),
  share(
    "note F1 at 25 ms: reverberation",
    ">=",
    88,
    92,
    percentOver(TAKES.reverb, (s) => s.note25.f1),
  ),
  share(
    "note F1 at 25 ms: recorded harmonica melodies",
    ">=",
    99.3,
    null,
    percentOver(TAKES.recordedMelodies, (s) => s.note25.f1),
    2,
  ),
  share(
    "note F1 at 50 ms: reverberation",
    ">=",
    93,
    96,
    percentOver(TAKES.reverb, (s) => s.note50.f1),
  ),
  share(
    "note F1: tremolo 5 Hz",
    ">=",
    98,
    null,
    percentOver(TAKES.tremolo, (s) => s.note50.f1),
  ),
  share(
    "voicing at 20 dB: recall",
    ">=",
    99.5,
    null,
    percentOver(TAKES.at20, (s) => s.voicingRecall),
    2,
  ),
  share(
    "voicing at 20 dB: false alarm",
    "<=",
    1,
    null,
    percentOver(TAKES.at20, (s) => s.voicingFalseAlarm),
    2,
  ),
  ...(["median", "p95"] as const).map(
    (part): Figure => ({
      name: `event cents, SNR >= 10 dB, both tempi: ${part === "median" ? "median" : "95 %"}`,
      unit: "cents",
      decimals: 3,
      sense: "<=",
      limit: part === "median" ? 0.02 : 0.1,
      goal: null,
      read: over(TAKES.inNoise, (s) => s.event[part]),
    }),
  ),
  ...[20, 10].flatMap((snrDb) => [500, 250, 125].map((lengthMs) => ratioTo(snrDb, lengthMs))),
  {
    name: "bends on recorded harmonica, error of the offset: 95 %",
    unit: "cents",
    decimals: 3,
    sense: "<=",
    limit: 0.1,
    goal: 0.05,
    read: bendP95,
  },
  leak("dry, -12 dB", 99, /_leakmix12$/),
  leak("dry, -20 dB", 99, /_leakmix20$/),
  leak("reverberation, -12 dB, 250 ms", 95, /^mel250_leakmix12_reverb$/),
  leak("reverberation, -12 dB, 125 ms", 60, /^reel125_leakmix12_reverb$/),
  share("leaky notes found: right reed named", ">=", 95, null, rightReed),
  {
    name: "speed, whole, one core, 5 ms hop",
    unit: "x real time",
    decimals: 0,
    sense: ">=",
    limit: 63,
    goal: null,
    read: (evidence) => speedOf(evidence, evidence.engine),
  },
  ...(["praat-ac", "aubio-yinfft"] as const).map(
    (peer): Figure => ({
      name: `speed against ${peer} in the same run${peer === "praat-ac" ? "" : " (a goal)"}`,
      unit: "x",
      decimals: 2,
      sense: ">",
      limit: 1,
      goal: null,
      read: against(peer),
    }),
  ),
  ...delay("live, true onset to right pitch known", ({ result }) => liveOver(result, TAKES.inNoise)),
  ...delay("the same by the printed frames, third right one", ({ result, engine }) => [
    ...scoreOver(result, engine, TAKES.inNoise).delaysMs,
  ]),
  ...(["the first time", "median of five"] as const).map(
    (which): Figure => ({
      name: `marks after the last note of a 60 s take: ${which}`,
      unit: "ms",
      decimals: 0,
      sense: "<=",
      limit: 200,
      goal: null,
      read: ({ timed: { marks } }) => {
        if (marks === null) return Number.NaN;
        return which === "the first time" ? marks.firstMs : marks.finishMs + marks.markMs;
      },
    }),
  ),
];
