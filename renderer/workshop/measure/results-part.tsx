import type { Harp } from "../../../core/instrument/harp.ts";
import { BREATHS, type Breath } from "../../../core/instrument/layout.ts";
import { centsInWords, reedInWords, resultsInWords } from "../../../core/workshop/measure/measure-words.ts";
import type { ReedMeasurement } from "../../../core/workshop/measure/measurement.ts";
import {
  IN_TUNE_CENTS,
  type ReedResult,
  reedResults,
  resultAt,
} from "../../../core/workshop/measure/reed-results.ts";
import { useDisplay } from "../../ui/display.ts";

interface ResultsPartProps {
  readonly measurement: ReedMeasurement;
  /** The tuning the reeds are held against. */
  readonly harp: Harp;
}

/** What was measured: sentences, the harp with every reed's cents, and all numbers. */
export function ResultsPart({ measurement, harp }: ResultsPartProps) {
  const results = reedResults(measurement, harp);
  return (
    <>
      <ul className="found">
        {resultsInWords(results).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <ReedGrid results={results} holes={harp.layout.holes.length} />
      <details>
        <summary>Every number</summary>
        <ReedNumbers results={results} />
      </details>
    </>
  );
}

/** The harp as it lies in the hand: blow above, draw below, cents from the target in each. */
function ReedGrid({ results, holes }: { readonly results: readonly ReedResult[]; readonly holes: number }) {
  const { mirrored } = useDisplay();
  const inOrder = Array.from({ length: holes }, (_, n) => n + 1);
  const numbers = mirrored ? inOrder.reverse() : inOrder;
  const row = (breath: Breath) => (
    <tr key={breath}>
      <th scope="row">{breath}</th>
      {numbers.map((hole) => (
        <ReedCell key={hole} result={resultAt(results, { hole, breath })} />
      ))}
    </tr>
  );
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the window is moved by keys
    <section className="wide" aria-label="Cents from the target" tabIndex={0}>
      <table className="reed-grid">
        <caption>Cents from the target; ↑ sharp and ↓ flat by more than {IN_TUNE_CENTS}</caption>
        <tbody>
          {row("blow")}
          <tr>
            <th scope="row">hole</th>
            {numbers.map((hole) => (
              <th key={hole} scope="col">
                {hole}
              </th>
            ))}
          </tr>
          {row("draw")}
        </tbody>
      </table>
    </section>
  );
}

function ReedCell({ result }: { readonly result: ReedResult | null }) {
  if (result === null) return <td className="soft">no reed</td>;
  const { offsetCents, failing, outcome } = result;
  if (offsetCents === null) {
    return outcome === null ? (
      <td className="soft">
        <span aria-hidden="true">–</span>
        <span className="only-read-aloud">not heard</span>
      </td>
    ) : (
      <td className="soft">{outcome}</td>
    );
  }
  const isOff = Math.abs(offsetCents) > IN_TUNE_CENTS;
  return (
    <td className={failing ? "failing" : isOff ? "off" : undefined}>
      {signed(offsetCents)}
      {isOff && !failing && <span>{offsetCents > 0 ? " ↑" : " ↓"}</span>}
      {failing && (
        <>
          <br />
          failing
        </>
      )}
    </td>
  );
}

const signed = (value: number) => centsInWords(value).replace(" cents", "");

function ReedNumbers({ results }: { readonly results: readonly ReedResult[] }) {
  return (
    <table>
      <thead>
        <tr>
          {["Reed", "Should sound", "Sounds", "Off", "Notes lie within", "Notes", "Level"].map((heading) => (
            <th key={heading} scope="col">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {BREATHS.flatMap((breath) => results.filter((result) => result.breath === breath)).map((result) => (
          <NumberRow key={reedInWords(result)} result={result} />
        ))}
      </tbody>
    </table>
  );
}

function NumberRow({ result }: { readonly result: ReedResult }) {
  const { targetHz, hz, offsetCents, read, outcome } = result;
  return (
    <tr>
      <th scope="row">{reedInWords(result)}</th>
      <td>{targetHz.toFixed(2)} Hz</td>
      <td>{hz === null ? (outcome ?? "not heard") : `${hz.toFixed(2)} Hz`}</td>
      <td>{offsetCents === null ? "" : centsInWords(offsetCents)}</td>
      <td>{read === null ? "" : `${read.rangeCents.toFixed(1)} cents`}</td>
      <td>{read === null ? "" : countedInWords(read.counted, read.leftOut)}</td>
      <td>{read === null ? "" : `${read.levelDbfs.toFixed(0)} dBFS`}</td>
    </tr>
  );
}

const countedInWords = (counted: number, leftOut: number) =>
  leftOut === 0 ? `${counted}` : `${counted}, ${leftOut} left out`;
