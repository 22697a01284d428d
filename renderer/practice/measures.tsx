import type { Attempt, BiasAndSpread, Swing } from "../../core/score/attempt.ts";

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
  const measures = attempt === null ? EMPTY : [notes(attempt), intonation(attempt), third(attempt)];
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
    detail: `mean and spread over ${measured.measuredNotes} notes${bent(measured.bends)}${ownReeds(measured.reedsTakenOff)}`,
  };
}

/** What the reeds do by themselves is not the player's. */
const ownReeds = (takenOff: number) => (takenOff === 0 ? "" : "; the reeds' own taken off");

function bent(bends: BiasAndSpread | null): string {
  if (bends === null || bends.biasCents === null) return "";
  return `; ${bends.measuredNotes} bent, ${signed(bends.biasCents, 1)}`;
}

/** Time, or in its place what a player without a beat wants to know. */
function third(attempt: Attempt): Measure {
  if (attempt.way === "hold") return holding(attempt);
  return attempt.way === "own pace" ? evenness(attempt) : timing(attempt);
}

function holding({ summary: { hold } }: Attempt): Measure {
  if (hold === null || hold.driftCents === null || hold.steadinessCents === null)
    return { name: "Held", value: "not measured", detail: "no note was held for half a second" };
  return {
    name: "Held",
    value: `drift ${hold.driftCents.toFixed(1)} cents`,
    detail: `unsteady by ${hold.steadinessCents.toFixed(1)} cents, over ${hold.measuredNotes} notes`,
  };
}

function evenness({ summary: { timing: measured } }: Attempt): Measure {
  if (measured.evennessShare === null) return { name: "Evenness", value: "not measured", detail: " " };
  const tempo =
    measured.tempoRatio === null
      ? ""
      : `tempo ${(100 * measured.tempoRatio).toFixed(0)} % of the one written`;
  return {
    name: "Evenness",
    value: `± ${(100 * measured.evennessShare).toFixed(0)} % of each length`,
    detail: [tempo, swing(measured.swing)].filter((part) => part !== "").join(", "),
  };
}

function swing(measured: Swing | null): string {
  if (measured === null) return "";
  if (measured.played === null) return "swing not measured";
  return `swing ${measured.played.toFixed(1)}:1 for ${measured.asked.toFixed(1)}:1`;
}

function timing({ summary: { timing: measured } }: Attempt): Measure {
  if (measured.measuredNotes === 0) return { name: "Timing", value: "not measured", detail: " " };
  const bias = measured.biasMs === null ? "no beat to measure from" : `${signed(measured.biasMs, 0)} ms`;
  const detail = [
    measured.evennessMs === null ? null : `evenness ${measured.evennessMs.toFixed(0)} ms`,
    measured.tempoRatio === null
      ? null
      : `tempo ${(100 * measured.tempoRatio).toFixed(1)} % of the one asked for`,
    swing(measured.swing) || null,
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
