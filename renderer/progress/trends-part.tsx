import { useId, useState } from "react";
import { LEAST_SESSIONS } from "../../core/progress/trends/claims-together.ts";
import type { MeasureTrend, TrendMeasure, Verdict } from "../../core/progress/trends/trend.ts";
import { useWriting } from "../ui/writing.ts";
import { HowTold } from "./how-told.tsx";
import type { Read, TrendsAnswer, TrendsAsk } from "./progress-view.ts";
import { Reading } from "./reading.tsx";
import { besideItsVerdict, howSure, underItsMeasure } from "./sentences.ts";
import { TrendChoice } from "./trend-choice.tsx";
import { linesOf, measureName, TrendFigure } from "./trend-figure.tsx";

interface TrendsPartProps {
  readonly ask: TrendsAsk;
  readonly read: Read<TrendsAnswer>;
  readonly onAsk: (ask: TrendsAsk) => void;
  readonly onStop: () => void;
  readonly onAgain: () => void;
}

/** Is it getting better, and how sure is that? */
export function TrendsPart(props: TrendsPartProps) {
  const { read, onStop, onAgain } = props;
  return (
    <main className="progress">
      <h1>Is it getting better?</h1>
      <Reading read={read} onStop={onStop} onAgain={onAgain}>
        {(answer) =>
          answer.days === null ? (
            <Nothing />
          ) : (
            <>
              <TrendChoice {...props} comparables={answer.comparables} shown={answer.shown?.of ?? null} />
              {answer.shown === null ? (
                <p>
                  Nothing of this kind was practised in these days. Look further back, or choose something
                  else.
                </p>
              ) : (
                <Told key={answer.shown.of.words} answer={answer} />
              )}
            </>
          )
        }
      </Reading>
      <HowTold />
    </main>
  );
}

function Nothing() {
  return (
    <p>
      Nothing here yet. Once something was played on two days, this says what changed, day by day; from the
      eighth day on, also how sure that is. Any drill or tune counts, and nothing has to be set up for it.
    </p>
  );
}

type Shown = Extract<TrendsAnswer, { readonly comparables: unknown }>;

function Told({ answer: { days, shown } }: { readonly answer: Shown }) {
  const [chosen, setChosen] = useState<TrendMeasure | null>(null);
  if (shown === null) return null;
  const { of, view } = shown;
  const trend = view.trends.find(({ measure }) => measure === chosen) ?? mostTelling(view.trends);
  if (trend === undefined)
    return <p>No take of these days holds the eight notes that a measure needs at least.</p>;
  return (
    <>
      {view.days < LEAST_SESSIONS && (
        <p className="notice">
          Too early: {view.days} of {LEAST_SESSIONS} sessions. What was played is shown already; from the
          eighth day on it can be told whether it changed.
        </p>
      )}
      <div className="told">
        <div className="telling">
          <Measures trends={view.trends} chosen={trend} onChoose={setChosen} />
          {view.judged > 0 && <p className="soft">{howSure(view.judged)}</p>}
        </div>
        <section className="proof" aria-label={`${measureName(trend)}, in detail`}>
          <h2>{measureName(trend)}</h2>
          <Sentences trend={trend} />
          <TrendFigure trend={trend} of={of.words} days={`${days.from} to ${days.to}`} />
        </section>
      </div>
    </>
  );
}

/** What changed for sure; else what can be judged; else whatever there is. */
const mostTelling = (trends: readonly MeasureTrend[]): MeasureTrend | undefined =>
  trends.find(({ day }) => day.verdict === "better" || day.verdict === "worse") ??
  trends.find(({ day }) => day.verdict !== "too early") ??
  trends[0];

const VERDICTS: Readonly<Record<Verdict, string>> = {
  "too early": "too early",
  "no clear change": "no clear change",
  better: "better",
  worse: "worse",
  changed: "changed",
  "not judged": "not judged",
};

/** How a verdict looks: a sign before the word. */
const SIGNS: Readonly<Record<Verdict, string>> = {
  "too early": "…",
  "no clear change": "=",
  better: "✓",
  worse: "!",
  changed: "~",
  "not judged": "-",
};

interface MeasuresProps {
  readonly trends: readonly MeasureTrend[];
  readonly chosen: MeasureTrend;
  readonly onChoose: (measure: TrendMeasure) => void;
}

/** One sentence a measure; the chosen one is proved beside. */
function Measures({ trends, chosen, onChoose }: MeasuresProps) {
  const { say } = useWriting();
  const name = useId();
  return (
    <fieldset className="measure-rows">
      <legend>All attempts of each day</legend>
      {trends.map((trend) => (
        <label key={trend.measure}>
          <input
            type="radio"
            name={name}
            checked={trend.measure === chosen.measure}
            onChange={() => onChoose(trend.measure)}
          />
          <span>
            <strong>{measureName(trend)}</strong>{" "}
            <span className={`verdict ${trend.day.verdict.replaceAll(" ", "-")}`}>
              <span aria-hidden="true">{SIGNS[trend.day.verdict]} </span>
              {VERDICTS[trend.day.verdict]}
            </span>
            <span className="sentence">{say(besideItsVerdict(trend.day))}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}

/** First attempts and best apart. */
function Sentences({ trend }: { readonly trend: MeasureTrend }) {
  const { say } = useWriting();
  return (
    <>
      {linesOf(trend)
        .filter(([kind]) => kind !== "day")
        .map(([kind, line]) => (
          <p key={kind}>
            <strong>{kind === "first" ? "First attempt of the day" : "Best of the day"}:</strong>{" "}
            {say(underItsMeasure(line))}
          </p>
        ))}
      <p className="soft">{say(trend.compared)}</p>
    </>
  );
}
