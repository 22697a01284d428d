import type { Attempt } from "../../core/score/attempt.ts";

interface MeasuresProps {
  readonly attempt: Attempt | null;
}

interface Measure {
  readonly name: string;
  readonly value: string;
  readonly detail: string;
}

/** The three measures, each in its own unit; their places are there before there is anything to put in them. */
export function Measures({ attempt }: MeasuresProps) {
  const measures = attempt === null ? EMPTY : [notes(attempt), intonation(attempt), timing(attempt)];
  return (
    <dl className="measures">
      {measures.map((measure) => (
        <div key={measure.name}>
          <dt>{measure.name}</dt>
          <dd className="value">{measure.value}</dd>
          <dd className="soft">{measure.detail}</dd>
        </div>
      ))}
    </dl>
  );
}

const EMPTY: readonly Measure[] = ["Notes", "Intonation", "Timing"].map((name) => ({
  name,
  value: "–",
  detail: " ",
}));

function notes({ summary: { notes: counted } }: Attempt): Measure {
  const others = [
    [counted.wrong, "wrong"],
    [counted.missed, "missed"],
    [counted.extra, "too many"],
    [counted.notMeasured, "not measured"],
  ] as const;
  const detail = others.filter(([count]) => count > 0).map(([count, what]) => `${count} ${what}`);
  return {
    name: "Notes",
    value: `${counted.hit} of ${counted.expected - counted.notMeasured} right`,
    detail: detail.join(", ") || "none wrong, missed or too many",
  };
}

function intonation({ summary: { intonation: measured } }: Attempt): Measure {
  if (measured.biasCents === null) return { name: "Intonation", value: "not measured", detail: " " };
  return {
    name: "Intonation",
    value: `${signed(measured.biasCents, 1)} cents${plusMinus(measured.spreadCents, 1)}`,
    detail: `mean and spread over ${measured.measuredNotes} notes`,
  };
}

function timing({ summary: { timing: measured } }: Attempt): Measure {
  if (measured.measuredNotes === 0) return { name: "Timing", value: "not measured", detail: " " };
  const bias = measured.biasMs === null ? "no beat to measure from" : `${signed(measured.biasMs, 0)} ms`;
  const detail = [
    measured.evennessMs === null ? null : `evenness ${measured.evennessMs.toFixed(0)} ms`,
    measured.tempoRatio === null
      ? null
      : `tempo ${(100 * measured.tempoRatio).toFixed(1)} % of the one asked for`,
  ];
  return {
    name: "Timing",
    value: `${bias}${plusMinus(measured.spreadMs, 0)}`,
    detail: detail.filter((part) => part !== null).join(", "),
  };
}

const plusMinus = (spread: number | null, digits: number) =>
  spread === null ? "" : ` ± ${spread.toFixed(digits)}`;

function signed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  if (Number(text) === 0) return text;
  return value > 0 ? `+${text}` : `−${text}`;
}
