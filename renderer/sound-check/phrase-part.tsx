import { faultWords, phraseWords } from "./outcome-words.ts";
import { PHRASE_SECONDS } from "./sound-check-session.ts";
import type { SoundCheckState } from "./sound-check-state.ts";

/** In the tab of the sheet: a minus sign is breathed in. */
const LONG_NOTES = ["4", "-4"] as const;
const QUICK_NOTES = ["4", "-4", "5", "-5", "6", "-5", "5", "-4"] as const;

interface PhrasePartProps {
  readonly state: SoundCheckState;
  /** Null where that is not known yet. */
  readonly delayKnown: boolean | null;
}

/** Ten seconds of playing that say whether it is good enough, and why not. */
export function PhrasePart({ state, delayKnown }: PhrasePartProps) {
  const { activity, microphone, phrase } = state;
  const refused = microphone.kind === "open" ? microphone.refused : [];
  const doubts = [
    ...(refused.length > 0 ? [`The system's ${refused.join(" and ")} is on: pitch and time suffer.`] : []),
    ...(delayKnown === false ? ["The delay is not measured: early and late cannot be told."] : []),
  ];
  return (
    <section className={activity.kind === "phrase" ? "phrase now" : "phrase"} aria-label="Test phrase">
      <p>
        <span className="soft">Test phrase, {PHRASE_SECONDS} seconds on any harp (minus is draw). Long:</span>{" "}
        <span className="tab">{LONG_NOTES.join("  ")}</span> <span className="soft">then quick:</span>{" "}
        <span className="tab">{QUICK_NOTES.join("  ")}</span>
      </p>
      {activity.kind === "phrase" && (
        <progress aria-label="Listening to the test phrase" value={activity.share} max={1} />
      )}
      {phrase !== null && (
        <div role="status">
          <p className="finding">{phraseWords(phrase, doubts.length)}</p>
          <ul>
            {phrase.faults.map((fault) => (
              <li key={fault.kind}>{faultWords(fault)}</li>
            ))}
            {doubts.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
