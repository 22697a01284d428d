import { type LadderRule, type RungState, rungTempo } from "../../core/exercise/tune-ladder.ts";
import { type Tempo, tempoSign } from "../../core/tune/tempo.ts";

interface LadderPartProps {
  readonly states: readonly RungState[];
  readonly danceBpm: Tempo;
  readonly rule: LadderRule;
  readonly onClimb: (state: RungState) => void;
}

const STATE_WORDS = { climbed: "done", now: "now", later: "" } as const;

/** From listening to the dance: every rung can be taken at any time. */
export function LadderPart({ states, danceBpm, rule, onClimb }: LadderPartProps) {
  return (
    <section className="no-print ladder" aria-label="Ladder">
      <h2>Ladder</h2>
      <p className="soft">
        Up after {rule.inARow} in a row with {Math.round(100 * rule.rightShare)} % of the notes right, within
        ±{rule.spreadMs} ms.
      </p>
      <ol>
        {states.map((state) => {
          const { rung } = state;
          const tempo = tempoSign({ ...danceBpm, bpm: rungTempo(danceBpm.bpm, rung) });
          return (
            <li key={rung.id} aria-current={state.state === "now" ? "step" : undefined}>
              {rung.kind === "listen" ? (
                <span>listen to {rung.words}</span>
              ) : (
                <button type="button" className="open" onClick={() => onClimb(state)}>
                  {rung.words}, {tempo}
                </button>
              )}{" "}
              <span className="soft">{STATE_WORDS[state.state]}</span>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
