import { PLAYED_BEATS } from "../audio/delay-measuring.ts";
import { NumberChoice } from "../ui/choice.tsx";
import { outcomeWords } from "./outcome-words.ts";
import type { SoundCheckSession } from "./sound-check-session.ts";
import { LOUDEST_PROBE_DB, type SoundCheckState } from "./sound-check-state.ts";

interface DelayPartProps {
  readonly session: SoundCheckSession;
  readonly state: SoundCheckState;
  readonly byHandMs: number;
  readonly onByHand: (delayMs: number) => void;
}

/** Two ways to measure the delay, what came of it, and a number of one's own. */
export function DelayPart({ session, state, byHandMs, onByHand }: DelayPartProps) {
  const { activity, outcome, probeDb, trouble } = state;
  if (activity.kind === "by loudspeaker")
    return <Working words="Six bursts of noise: keep quiet, and do not move." share={activity.share} />;
  if (activity.kind === "by playing along")
    return <Working words={beatWords(activity.beat)} share={activity.share} isLarge />;
  const busy = activity.kind !== "none" || state.microphone.kind === "opening";
  const couldBeLouder =
    outcome?.way === "loudspeaker" && outcome.found.kind === "not heard" && probeDb < LOUDEST_PROBE_DB;
  return (
    <>
      <div className="row">
        <button type="button" disabled={busy} onClick={() => void session.measureByLoudspeaker()}>
          Measure by loudspeaker
        </button>
        {couldBeLouder && (
          <button type="button" disabled={busy} onClick={() => void session.measureLouder()}>
            Louder, and again
          </button>
        )}
        <button type="button" disabled={busy} onClick={() => void session.measureByPlayingAlong()}>
          Play along to {PLAYED_BEATS} beats
        </button>
      </div>
      {outcome === null && (
        <p className="soft">
          By loudspeaker is surer. Headphones off your ears: bursts of noise come, softly at first. Who must
          keep them on plays along, one short note a beat.
        </p>
      )}
      {outcome !== null && <p role="status">{outcomeWords(outcome, probeDb)}</p>}
      {trouble !== null && <p role="alert">{trouble}</p>}
      <details>
        <summary>Set it by hand</summary>
        <NumberChoice
          legend="Delay set by hand"
          unit="ms, 0: the measured one counts"
          value={byHandMs}
          low={0}
          high={1000}
          step={1}
          onChange={onByHand}
        />
      </details>
    </>
  );
}

/** Counts in and on, as one would aloud. */
function beatWords(beat: number | null): string {
  if (beat === null) return "Listen …";
  return beat < 0 ? `Listen: ${5 + beat}` : `Play: ${beat + 1}`;
}

interface WorkingProps {
  readonly words: string;
  readonly share: number;
  readonly isLarge?: boolean;
}

function Working({ words, share, isLarge = false }: WorkingProps) {
  return (
    <>
      <p className={isLarge ? "beat" : "finding"} role="status">
        {words}
      </p>
      <progress aria-label="Measuring the delay" value={share} max={1} />
    </>
  );
}
