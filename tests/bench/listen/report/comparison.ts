import { median } from "../measures/statistics.ts";
import { type Summary, summarise } from "../measures/summary.ts";
import { type SeedResult, scoreOver, TAKES, type Timed } from "./measured.ts";
import { fixed, percent, table } from "./numbers.ts";

interface Row {
  readonly label: string;
  readonly takes: RegExp;
  readonly cell: (summary: Summary) => string;
}

const pitchAndNotes = (s: Summary) => `${percent(s.rawPitch50)} / ${percent(s.note25.f1)}`;
const cents = (s: Summary) => `${fixed(s.event.median, 2)}, ${fixed(s.event.p95, 2)}`;

const ROWS: readonly Row[] = [
  {
    label: "20 dB, 250 and 125 ms notes: raw pitch / note F1 at 25 ms / cents / gross",
    takes: TAKES.at20,
    cell: (s) => `${pitchAndNotes(s)} / ${cents(s)} / ${percent(s.gross)}`,
  },
  { label: "10 dB: raw pitch / note F1 at 25 ms", takes: TAKES.at10, cell: pitchAndNotes },
  {
    label: "neighbour reed at -12 dB: raw pitch / note F1 at 25 ms, gross",
    takes: TAKES.leak12,
    cell: (s) => `${pitchAndNotes(s)}, gross ${percent(s.gross)}`,
  },
  {
    label: "reverberation 0.4 s: raw pitch / note F1 at 25 ms",
    takes: TAKES.reverb,
    cell: pitchAndNotes,
  },
  {
    label: "recorded harmonica melodies: note F1 at 25 ms",
    takes: TAKES.recordedMelodies,
    cell: (s) => percent(s.note25.f1),
  },
  { label: "5 Hz tremolo: note F1 at 50 ms", takes: TAKES.tremolo, cell: (s) => percent(s.note50.f1) },
];

/** Every engine side by side on the takes that tell most; cents are median, 95 % per named note. */
export function comparisonTable(result: SeedResult, { speeds }: Timed): string {
  const engines = [...result.engines.keys()];
  const scored = ROWS.map(({ label, takes, cell }) => [
    label,
    ...engines.map((engine) => {
      const score = scoreOver(result, engine, takes);
      return score.notes.references > 0 ? cell(summarise(score)) : "-";
    }),
  ]);
  const speed = engines.map((engine) =>
    fixed(speeds.find(({ name }) => name === engine)?.timesRealTime ?? Number.NaN, 0),
  );
  const delay = engines.map((engine) => fixed(median(scoreOver(result, engine, TAKES.inNoise).delaysMs), 0));
  return table(
    ["", ...engines],
    [
      ...scored,
      ["x real time, one core, 5 ms hop", ...speed],
      ["true onset to three right frames, median ms", ...delay],
    ],
  );
}

const DETAILS = [
  ["raw pitch 50 c", (s: Summary) => percent(s.rawPitch50)],
  ["10 c", (s: Summary) => percent(s.rawPitch10)],
  ["5 c", (s: Summary) => percent(s.rawPitch5)],
  ["chroma", (s: Summary) => percent(s.rawChroma)],
  ["8ve up", (s: Summary) => percent(s.octaveUp)],
  ["8ve down", (s: Summary) => percent(s.octaveDown)],
  ["recall", (s: Summary) => percent(s.voicingRecall)],
  ["false al.", (s: Summary) => percent(s.voicingFalseAlarm)],
  ["steady c med, 95 %, rms", ({ steady }: Summary) => spreadCell(steady)],
  ["gross", (s: Summary) => percent(s.gross)],
  ["onset F1 50, 25 ms", (s: Summary) => `${percent(s.onset50.f1)}, ${percent(s.onset25.f1)}`],
  ["note F1 50, 25 ms", (s: Summary) => `${percent(s.note50.f1)}, ${percent(s.note25.f1)}`],
  ["note prec., recall", (s: Summary) => `${percent(s.note50.precision)}, ${percent(s.note50.recall)}`],
  ["late ms", (s: Summary) => fixed(s.lateMs, 1)],
  ["event c med, 95 %, rms", ({ event }: Summary) => spreadCell(event)],
] as const;

const spreadCell = (of: Summary["event"]) =>
  `${fixed(of.median, 3)}, ${fixed(of.p95, 3)}, ${fixed(of.rms, 3)}`;

/** Every group of takes and every engine, one line each. */
export function detailTable(result: SeedResult): string {
  const groups = new Set([...result.engines.values()].flatMap((takes) => takes.map(({ group }) => group)));
  const rows = [...groups].flatMap((group) =>
    [...result.engines].map(([engine, takes]) => {
      const names = new Set(takes.filter((one) => one.group === group).map(({ take }) => take));
      const of = { ...result, engines: new Map([[engine, takes.filter(({ take }) => names.has(take))]]) };
      const summary = summarise(scoreOver(of, engine, /./));
      return [group, engine, ...DETAILS.map(([, cell]) => cell(summary))];
    }),
  );
  return table(["group", "engine", ...DETAILS.map(([head]) => head)], rows);
}
