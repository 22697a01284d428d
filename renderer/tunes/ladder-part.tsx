import { type LadderRule, type RungState, rungTempo } from "../../core/exercise/tune-ladder.ts";
import { type Tempo, tempoSign } from "../../core/tune/tempo.ts";
import type { Settings } from "../store/settings-store.ts";
import { NumberChoice } from "../ui/choice.tsx";

interface LadderPartProps {
  readonly states: readonly RungState[];
  readonly danceBpm: Tempo;
  readonly rule: LadderRule;
  readonly onRule: (rule: Settings["ladder"]) => void;
  readonly onClimb: (state: RungState) => void;
}

const STATE_WORDS = { climbed: "done", now: "now", later: "" } as const;

/** From listening to the dance: every rung can be taken at any time. */
export function LadderPart({ states, danceBpm, rule, onRule, onClimb }: LadderPartProps) {
  return (
    <section className="no-print ladder" aria-label="Ladder">
      <h2>Ladder</h2>
      <p className="soft">
        Up after {rule.inARow} in a row with {Math.round(100 * rule.rightShare)} % of the notes right, within
        ±{rule.spreadMs} ms.
      </p>
      <RuleChoice rule={rule} onRule={onRule} />
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

function RuleChoice({ rule, onRule }: Pick<LadderPartProps, "rule" | "onRule">) {
  const { rightShare, spreadMs, inARow } = rule;
  const change = (part: Partial<Settings["ladder"]>) => onRule({ rightShare, spreadMs, inARow, ...part });
  return (
    <details>
      <summary>Change the rule</summary>
      <NumberChoice
        legend="In a row"
        unit="attempts"
        value={inARow}
        low={1}
        high={10}
        step={1}
        onChange={(count) => change({ inARow: count })}
      />
      <NumberChoice
        legend="Right"
        unit="% of the notes"
        value={Math.round(100 * rightShare)}
        low={50}
        high={100}
        step={1}
        onChange={(percent) => change({ rightShare: percent / 100 })}
      />
      <NumberChoice
        legend="Spread of the onsets"
        unit="ms"
        value={spreadMs}
        low={5}
        high={200}
        step={5}
        onChange={(ms) => change({ spreadMs: ms })}
      />
    </details>
  );
}
