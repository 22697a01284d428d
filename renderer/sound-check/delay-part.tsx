import { PLAYED_BEATS } from "../audio/delay-measuring.ts";
import { NumberChoice } from "../ui/choice.tsx";
import { outcomeWords } from "./outcome-words.ts";
import type { SoundCheckSession } from "./sound-check-session.ts";
import { type Activity, LOUDEST_PROBE_DB, type SoundCheckState } from "./sound-check-state.ts";

interface DelayPartProps {
  readonly session: SoundCheckSession;
  readonly state: SoundCheckState;
  readonly byHandMs: number;
  readonly onByHand: (delayMs: number) => void;
}

/** Two ways to measure the delay, what came of it, and a number of one's own. */
export function DelayPart({ session, state, byHandMs, onByHand }: DelayPartProps) {
  const { activity, outcome, probeDb, trouble } = state;
  const measuring = activity.kind === "by loudspeaker" || activity.kind === "by playing along";
  const couldBeLouder =
    outcome?.way === "loudspeaker" && outcome.found.kind === "not heard" && probeDb < LOUDEST_PROBE_DB;
  const ways: readonly WayToMeasure[] = [
    {
      words: "Measure by loudspeaker",
      kind: "by loudspeaker",
      start: () => void session.measureByLoudspeaker(),
    },
    ...(couldBeLouder && !measuring
      ? [{ words: "Louder, and again", kind: null, start: () => void session.measureLouder() }]
      : []),
    {
      words: `Play along to ${PLAYED_BEATS} beats`,
      kind: "by playing along",
      start: () => void session.measureByPlayingAlong(),
    },
  ];
  return (
    <>
      <div className="row">
        {ways.map((way) => (
          <WayButton key={way.words} way={way} activity={activity} onStop={() => session.stop()} />
        ))}
      </div>
      <Meanwhile activity={activity} />
      {outcome === null && !measuring && (
        <p className="soft">
          By loudspeaker is surer. Headphones off your ears: bursts of noise come, softly at first. Who must
          keep them on plays along, one short note a beat.
        </p>
      )}
      {outcome !== null && !measuring && <p role="status">{outcomeWords(outcome, probeDb)}</p>}
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

interface WayToMeasure {
  readonly words: string;
  /** What it is called while it goes on; null for a button that is gone by then. */
  readonly kind: Activity["kind"] | null;
  readonly start: () => void;
}

interface WayButtonProps {
  readonly way: WayToMeasure;
  readonly activity: Activity;
  readonly onStop: () => void;
}

/** Starts a measuring and stops it; never disabled, as it would lose the focus. */
function WayButton({ way, activity, onStop }: WayButtonProps) {
  const isOn = activity.kind === way.kind;
  const isIdle = activity.kind === "none";
  return (
    <button
      type="button"
      aria-disabled={!isOn && !isIdle}
      onClick={() => {
        if (isOn) onStop();
        else if (isIdle) way.start();
      }}
    >
      {isOn ? "Stop measuring" : way.words}
    </button>
  );
}

function Meanwhile({ activity }: { readonly activity: Activity }) {
  switch (activity.kind) {
    case "by loudspeaker":
      return <Working words="Six bursts of noise: keep quiet, and do not move." share={activity.share} />;
    case "by playing along":
      return <Working words={beatWords(activity.beat)} share={activity.share} isLarge />;
    case "none":
    case "phrase":
      return null;
  }
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
