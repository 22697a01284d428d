import type { ReactNode } from "react";
import { TAKES_LIMIT_MB } from "../store/settings-store.ts";
import { BusyLine } from "../ui/busy-line.tsx";
import { NumberChoice } from "../ui/choice.tsx";
import { SureButton } from "../ui/sure-button.tsx";
import { Group, type GroupProps } from "./group.tsx";
import type { HistoryCheck, Keeping } from "./keeping.ts";
import {
  beyondInWords,
  COPY_WORDS,
  PERSISTENCE_WORDS,
  roomInWords,
  takesInWords,
  verifiedInWords,
} from "./keeping-words.ts";

interface KeptGroupProps extends GroupProps {
  readonly keeping: Keeping;
  /** What else can be done with all that is kept: archives and backups. */
  readonly children?: ReactNode;
}

/** Room for takes, whether the browser keeps what is kept, and whether everything in the history agrees. */
export function KeptGroup({ settings, onChange, keeping, children }: KeptGroupProps) {
  const { persistence, onAskToKeep } = keeping;
  return (
    <Group title="What is kept" fields={["takesLimitMb"]} settings={settings} onChange={onChange}>
      <Takes limitMb={settings.takesLimitMb} keeping={keeping} />
      <NumberChoice
        legend="Room for takes"
        unit="MB"
        value={settings.takesLimitMb}
        low={TAKES_LIMIT_MB.low}
        high={TAKES_LIMIT_MB.high}
        step={50}
        onChange={(takesLimitMb) => onChange("Room for takes", { takesLimitMb })}
      />
      <p className="soft">
        Beyond it the oldest takes go first, those with a star never, and no marks at all.
      </p>
      <p className="row">
        <span>{PERSISTENCE_WORDS[persistence]}</span>
        {(persistence === "not promised" || persistence === "refused") && (
          <button type="button" onClick={onAskToKeep}>
            {persistence === "refused" ? "Ask it again" : "Ask it to keep it"}
          </button>
        )}
      </p>
      {keeping.copy !== null && <p>{COPY_WORDS[keeping.copy]}</p>}
      <Check keeping={keeping} />
      {children}
    </Group>
  );
}

function Takes({
  limitMb,
  keeping: { space, onFitTakes, onDropTakes },
}: {
  limitMb: number;
  keeping: Keeping;
}) {
  if (space.kind === "reading") return <p role="status">Looking what is kept …</p>;
  if (space.kind === "trouble")
    return (
      <p className="notice" role="alert">
        {space.words}
      </p>
    );
  const beyond = beyondInWords(space.space, limitMb);
  return (
    <>
      <p>
        {takesInWords(space.space)} {roomInWords(space.space)}
      </p>
      {beyond !== null && (
        <p className="row">
          <span>{beyond}</span>
          <button type="button" onClick={onFitTakes}>
            Drop them now
          </button>
        </p>
      )}
      {space.space.takes > 0 && (
        <p>
          <SureButton
            words="Delete all takes"
            warning="The sound of every attempt goes for good, starred or not; marks stay."
            onSure={onDropTakes}
          />
        </p>
      )}
    </>
  );
}

function Check({ keeping: { check, needsRecount, onCheck, onStopCheck } }: { keeping: Keeping }) {
  if (check.kind === "checking")
    return <BusyLine words="Checking the history" share={check.share} onStop={onStopCheck} />;
  return (
    <>
      {needsRecount && (
        <p className="notice">
          Attempts are counted otherwise now than when they were kept. Check the history: it counts all of
          them anew.
        </p>
      )}
      <p className="row">
        <button type="button" onClick={onCheck}>
          Check the history
        </button>
        <span className="soft">
          Counts everything anew from the attempts, looks through the second copy, and puts right what
          differs.
        </span>
      </p>
      <Outcome check={check} />
    </>
  );
}

function Outcome({ check }: { readonly check: HistoryCheck }) {
  switch (check.kind) {
    case "none":
    case "checking":
      return null;
    case "stopped":
      return <p role="status">Stopped. What was checked so far is right; the rest was not looked at.</p>;
    case "trouble":
      return (
        <p className="notice" role="alert">
          {check.words}
        </p>
      );
    case "done":
      return (
        <div role="status">
          <p>{verifiedInWords(check.verified)}</p>
          {check.verified.differences.length > 0 && (
            <details>
              <summary>What differed</summary>
              <ul>
                {check.verified.differences.map((words) => (
                  <li key={words}>{words}</li>
                ))}
              </ul>
            </details>
          )}
        </div>
      );
  }
}
