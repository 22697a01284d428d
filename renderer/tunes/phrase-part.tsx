import { useState } from "react";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { joinWithNext, PHRASE_BARS, type Span, splitAt } from "../../core/tune/phrases.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { ticks } from "../../core/units.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { danceTempo, type OpenTune, phraseBarsOf, swingOf } from "./tune-view.ts";

interface PhrasePartProps {
  readonly open: OpenTune;
  readonly plan: TunePlan;
  /** Note of the tune that is chosen. */
  readonly chosen: number;
  readonly onChange: (part: Partial<TuneStudy>) => void;
  readonly onPractise: (
    span: Span,
    words: string,
    tempoShare: number,
    times: number,
    rung: string | null,
  ) => void;
}

/** Phrases as found or as the player cut them, and any stretch to loop. */
export function PhrasePart({ open, plan, chosen, onChange, onPractise }: PhrasePartProps) {
  const { tune, study } = open;
  const at = tune.notes[chosen]?.startTicks ?? ticks(0);
  return (
    <section className="no-print" aria-label="Phrases and tempo">
      <h2>Phrases</h2>
      <RadioChoice
        legend="Bars to a phrase"
        value={phraseBarsOf(study)}
        options={PHRASE_BARS.map((bars) => [bars, String(bars)] as const)}
        onChange={(phraseBars) => onChange({ phraseBars, phrases: [] })}
      />
      <ul className="phrases">
        {plan.phrases.map((phrase) => {
          const inside = at > phrase.startTicks && at < phrase.endTicks;
          return (
            <li key={phrase.startTicks}>
              {phrase.words}{" "}
              {phrase.index < plan.phrases.length - 1 && (
                <button
                  type="button"
                  onClick={() => onChange({ phrases: joinWithNext(plan.phrases, phrase.index) })}
                >
                  Join with next<span className="only-read-aloud"> after {phrase.words}</span>
                </button>
              )}{" "}
              {inside && (
                <button
                  type="button"
                  onClick={() => onChange({ phrases: splitAt(plan.phrases, phrase.index, at) })}
                >
                  Cut before the chosen note
                </button>
              )}
            </li>
          );
        })}
      </ul>
      {(study.phrases?.length ?? 0) > 0 && (
        <button type="button" onClick={() => onChange({ phrases: [] })}>
          As found
        </button>
      )}
      <Loop tune={tune} onPractise={onPractise} />
      <NumberChoice
        legend="Dance tempo"
        unit="beats a minute"
        value={danceTempo(open).bpm}
        low={30}
        high={240}
        step={1}
        onChange={(danceBpm) => onChange({ danceBpm })}
      />
      <NumberChoice
        legend="Swing"
        unit="long to short, 1 even"
        value={swingOf(open)}
        low={1}
        high={4}
        step={0.1}
        onChange={(swing) => onChange({ swing })}
      />
    </section>
  );
}

function Loop({
  tune,
  onPractise,
}: {
  readonly tune: Tune;
  readonly onPractise: PhrasePartProps["onPractise"];
}) {
  const [from, setFrom] = useState(1);
  const [to, setTo] = useState(Math.min(2, tune.bars.length));
  const [share, setShare] = useState(70);
  const [times, setTimes] = useState(4);
  const [first, last] = [tune.bars[Math.min(from, to) - 1], tune.bars[Math.max(from, to) - 1]];
  return (
    <details>
      <summary>Loop any bars</summary>
      <div className="row">
        <NumberChoice
          legend="From"
          unit="bar as played"
          value={from}
          low={1}
          high={tune.bars.length}
          step={1}
          onChange={setFrom}
        />
        <NumberChoice
          legend="To"
          unit="bar as played"
          value={to}
          low={1}
          high={tune.bars.length}
          step={1}
          onChange={setTo}
        />
        <NumberChoice
          legend="At"
          unit="% of the dance"
          value={share}
          low={30}
          high={120}
          step={5}
          onChange={setShare}
        />
        <NumberChoice
          legend="On end"
          unit="times"
          value={times}
          low={1}
          high={16}
          step={1}
          onChange={setTimes}
        />
        <button
          type="button"
          disabled={first === undefined || last === undefined}
          onClick={() => {
            if (first === undefined || last === undefined) return;
            const span = {
              startTicks: first.startTicks,
              endTicks: ticks(last.startTicks + last.lengthTicks),
            };
            onPractise(span, `bars ${first.index + 1}–${last.index + 1}`, share / 100, times, null);
          }}
        >
          Practise these bars
        </button>
      </div>
    </details>
  );
}
