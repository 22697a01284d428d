import { useEffect, useRef, useState } from "react";
import type { Harp } from "../../../core/instrument/harp.ts";
import { type PairBeats, pairBeats, reedPairs } from "../../../core/workshop/measure/beats.ts";
import {
  beatsInWords,
  centsInWords,
  heardInWords,
  intervalInWords,
} from "../../../core/workshop/measure/measure-words.ts";
import type { ReedMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { type ReedResult, reedResults, resultAt } from "../../../core/workshop/measure/reed-results.ts";
import type { OpenMicrophone } from "../../audio/microphone.ts";
import { BusyLine } from "../../ui/busy-line.tsx";
import type { MeasureWork } from "./measure-work.ts";
import { hearTogether, type TogetherOutcome } from "./together-session.ts";

interface BeatsPartProps {
  readonly measurement: ReedMeasurement;
  readonly harp: Harp;
  readonly openMicrophone: OpenMicrophone;
  readonly work: MeasureWork;
}

/** Octaves, fifths and major thirds are what tuners listen to. */
const LISTENED_TO: readonly number[] = [0, 4, 7, 12];
/** Faster ones are heard as roughness; common practice. */
const COUNTABLE_PER_SECOND = 15;

const nameOf = ({ breath, lowHole, highHole }: PairBeats) => `${lowHole} and ${highHole} ${breath}`;

/** What two reeds do together: beats as calculated from the measured reeds, and as heard when both are sounded. */
export function BeatsPart({ measurement, harp, openMicrophone, work }: BeatsPartProps) {
  const results = reedResults(measurement, harp);
  const pairs = reedPairs(harp)
    .filter(({ semitones }) => LISTENED_TO.includes(semitones))
    .map((pair) => pairBeats(pair, results));
  const [heard, setHeard] = useState<ReadonlyMap<string, string>>(new Map());
  const [busy, setBusy] = useState<{ readonly name: string; readonly share: number } | null>(null);
  const stop = useRef(new AbortController());
  useEffect(() => () => stop.current.abort(), []);
  const hear = async (pair: PairBeats) => {
    const name = nameOf(pair);
    stop.current = new AbortController();
    setBusy({ name, share: 0 });
    const outcome = await hearTogether(
      { openMicrophone, work },
      soundingPair(pair, results),
      (share) => setBusy({ name, share }),
      stop.current.signal,
    );
    setBusy(null);
    if (outcome.kind !== "stopped") setHeard((before) => new Map(before).set(name, wordsOf(outcome, pair)));
  };
  return (
    <section aria-label="Two reeds together">
      <h2>Two reeds together</h2>
      {busy !== null && (
        <BusyLine
          words={`Sound ${busy.name} together, evenly`}
          share={busy.share}
          onStop={() => stop.current.abort()}
        />
      )}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the window is moved by keys */}
      <section className="wide" aria-label="Beats" tabIndex={0}>
        <table>
          <thead>
            <tr>
              {["Holes", "Interval", "From pure", "Beats", "As it should be", "Heard"].map((heading) => (
                <th key={heading} scope="col">
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {pairs.map((pair) => (
              <tr key={nameOf(pair)}>
                <th scope="row">{nameOf(pair)}</th>
                <td>{intervalInWords(pair.semitones)}</td>
                <td>{pair.wideCents === null ? "not measured" : centsInWords(pair.wideCents)}</td>
                <td>{pair.measured === null ? "" : beatsOrRough(pair.measured)}</td>
                <td>{beatsOrRough(pair.wanted)}</td>
                <td>
                  <button type="button" disabled={busy !== null} onClick={() => void hear(pair)}>
                    Hear both<span className="only-read-aloud"> {nameOf(pair)}</span>
                  </button>{" "}
                  <span role="status">{heard.get(nameOf(pair)) ?? ""}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}

const beatsOrRough = (perSecond: number) =>
  perSecond > COUNTABLE_PER_SECOND ? `rough (${perSecond.toFixed(0)})` : beatsInWords(perSecond);

/** Where the reeds were measured to lie; where they should, if they were not. */
function soundingPair(pair: PairBeats, results: readonly ReedResult[]) {
  const hz = (hole: number) => {
    const result = resultAt(results, { hole, breath: pair.breath });
    return result?.hz ?? result?.targetHz ?? Number.NaN;
  };
  return { lowHz: hz(pair.lowHole), highHz: hz(pair.highHole), ratio: pair.ratio };
}

function wordsOf(outcome: Exclude<TogetherOutcome, { kind: "stopped" }>, pair: PairBeats): string {
  return outcome.kind === "trouble" ? outcome.words : heardInWords(outcome.heard, pair);
}
