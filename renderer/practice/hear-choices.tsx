import { useEffect, useState, useSyncExternalStore } from "react";
import { ListChoice, NumberChoice } from "../ui/choice.tsx";
import type { NoteRange } from "./placed-notes.ts";
import type { HearingState, HearPlan, HearWhat, TakeHearing } from "./take-hearing.ts";

export const HOW_FAR = ["to the end", "this note", "this bar", "a span"] as const;
export type HowFar = (typeof HOW_FAR)[number];

/** How the player wants to hear a take. */
export interface HearChoice {
  readonly what: HearWhat;
  readonly howFar: HowFar;
  readonly again: boolean;
  readonly speed: HearPlan["speed"];
}

export const FIRST_HEAR_CHOICE: HearChoice = { what: "take", howFar: "to the end", again: false, speed: 1 };

interface HearChoicesProps {
  readonly choice: HearChoice;
  readonly onChoice: (choice: HearChoice) => void;
  readonly span: NoteRange;
  readonly onSpan: (span: NoteRange) => void;
  /** How many notes there are. */
  readonly count: number;
  readonly hearing: TakeHearing;
  /** Sounds it from the selected note. */
  readonly onHear: (what: HearWhat) => void;
}

const BUTTONS: readonly (readonly [HearWhat, string])[] = [
  ["take", "Your take"],
  ["reference", "As it should sound"],
  ["in turn", "Both in turn"],
];

/** What to hear from the selected note: the take, how it should sound or both, how far, how often and how fast. */
export function HearChoices(props: HearChoicesProps) {
  const { choice, onChoice, span, onSpan, count, hearing, onHear } = props;
  const state = useSyncExternalStore(hearing.subscribe, hearing.getState);
  const change = (part: Partial<HearChoice>) => onChoice({ ...choice, ...part });
  return (
    <fieldset className="hear-choices">
      <legend>Hear it from this note</legend>
      {BUTTONS.map(([what, words]) => (
        <button key={what} type="button" onClick={() => onHear(what)}>
          {words}
        </button>
      ))}
      <button type="button" disabled={state.kind === "silent"} onClick={() => hearing.stop()}>
        Silence
      </button>
      <ListChoice
        legend="How far"
        value={choice.howFar}
        options={HOW_FAR.map((howFar) => [howFar, howFar] as const)}
        onChange={(howFar) => change({ howFar })}
      />
      {choice.howFar === "a span" && <SpanChoice span={span} onSpan={onSpan} count={count} />}
      <label className="tick">
        <input
          type="checkbox"
          checked={choice.again}
          onChange={(event) => change({ again: event.target.checked })}
        />
        Again and again
      </label>
      <label className="tick">
        <input
          type="checkbox"
          checked={choice.speed === 0.5}
          onChange={(event) => change({ speed: event.target.checked ? 0.5 : 1 })}
        />
        Half speed
      </label>
      <HearingWords state={state} />
    </fieldset>
  );
}

type SpanChoiceProps = Pick<HearChoicesProps, "span" | "onSpan" | "count">;

function SpanChoice({ span, onSpan, count }: SpanChoiceProps) {
  return (
    <>
      <NumberChoice
        legend="From"
        unit="note"
        value={span.from + 1}
        low={1}
        high={count}
        step={1}
        onChange={(from) => onSpan(spanOf(from - 1, span.to, from - 1))}
      />
      <NumberChoice
        legend="To"
        unit="note"
        value={span.to + 1}
        low={1}
        high={count}
        step={1}
        onChange={(to) => onSpan(spanOf(span.from, to - 1, to - 1))}
      />
    </>
  );
}

/** The end that was set last wins where the two cross. */
function spanOf(from: number, to: number, set: number): NoteRange {
  const [low, high] = [Math.round(from), Math.round(to)];
  return low <= high ? { from: low, to: high } : { from: Math.round(set), to: Math.round(set) };
}

function HearingWords({ state }: { readonly state: HearingState }) {
  const slow = useLasting(state.kind === "slowing");
  if (state.kind === "silent" && state.trouble !== null) {
    return (
      <span className="notice" role="alert">
        {state.trouble}
      </span>
    );
  }
  if (state.kind !== "slowing" || !slow) return null;
  return (
    <span className="hear-words" role="status">
      Making it slower …
      <progress aria-label="Making the take slower" value={state.share} max={1} />
    </span>
  );
}

const SOON_MS = 300;

/** True once something has gone on for a while: what is over at once is not shown. */
function useLasting(goesOn: boolean): boolean {
  const [lasting, setLasting] = useState(false);
  useEffect(() => {
    setLasting(false);
    if (!goesOn) return;
    const timer = setTimeout(() => setLasting(true), SOON_MS);
    return () => clearTimeout(timer);
  }, [goesOn]);
  return lasting;
}
