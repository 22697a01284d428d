import { useEffect, useRef, useSyncExternalStore } from "react";
import { type DelayInUse, delayInUse, type MeasuredDelay } from "../../core/delay/measured-delays.ts";
import { milliseconds } from "../../core/units.ts";
import type { SoundDevice } from "../audio/sound-device.ts";
import type { DevicesState, SoundDevices } from "../audio/sound-devices.ts";
import { soundPair } from "../audio/sound-pair.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { DelayPart } from "./delay-part.tsx";
import { DevicePart } from "./device-part.tsx";
import { type Finding, findingsOf, verdictOf } from "./findings.ts";
import { LevelBar } from "./level-bar.tsx";
import { PhrasePart } from "./phrase-part.tsx";
import type { SoundCheckSession } from "./sound-check-session.ts";
import type { Activity, MicrophoneState } from "./sound-check-state.ts";
import "./sound-check.css";

interface SoundCheckScreenProps {
  readonly session: SoundCheckSession;
  readonly devices: SoundDevices;
  readonly measuredDelays: readonly MeasuredDelay[];
  /** Delay set by hand, in ms; 0 where none is. */
  readonly byHandMs: number;
  readonly outputLatencySeconds: () => number;
  readonly onInput: (chosen: SoundDevice | null) => void;
  readonly onOutput: (chosen: SoundDevice | null) => void;
  readonly onByHand: (delayMs: number) => void;
}

/** Can this set-up hear the player well enough? Four lines, each well or with what to do. */
export function SoundCheckScreen(props: SoundCheckScreenProps) {
  const { session, devices: soundDevices } = props;
  const state = useSyncExternalStore(session.subscribe, session.getState);
  const devices = useSyncExternalStore(soundDevices.subscribe, soundDevices.getState);
  const delay = delayOf(props, state.microphone, devices);
  const findings = findingsOf(state, devices, delay, props.outputLatencySeconds());
  const main = mainAction(session, state.microphone, state.activity);
  const mainButton = useRef<HTMLButtonElement>(null);
  // Else Space would press again what led here.
  useEffect(() => mainButton.current?.focus(), []);
  useVerbs({
    start: main.act,
    leave:
      state.activity.kind !== "none"
        ? () => session.stop()
        : state.microphone.kind === "open"
          ? () => session.close()
          : null,
  });
  return (
    <main className="sound-check">
      <h1 className="only-read-aloud">Sound check</h1>
      <p className="verdict" role="status">
        {verdictOf(state, findings)}
      </p>
      <div className="row">
        <button ref={mainButton} type="button" className="main" onClick={() => main.act?.()}>
          {main.words} <Key verb="start" />
        </button>
        {state.microphone.kind === "open" && state.activity.kind === "none" && (
          <button type="button" onClick={() => session.close()}>
            Close the microphone <Key verb="leave" />
          </button>
        )}
        <span className="soft">
          {state.microphone.kind === "open" ? "The microphone is open." : "The microphone is closed."}
        </span>
      </div>
      <dl className="lines">
        <Line name="Device" finding={findings.device}>
          <DevicePart
            devices={devices}
            disabled={state.activity.kind !== "none"}
            onInput={props.onInput}
            onOutput={props.onOutput}
          />
        </Line>
        <Line name="Level" finding={findings.level}>
          <LevelBar session={session} isOpen={state.microphone.kind === "open"} />
        </Line>
        <Line name="Noise" finding={findings.noise} />
        <Line name="Delay" finding={findings.delay}>
          <DelayPart session={session} state={state} byHandMs={props.byHandMs} onByHand={props.onByHand} />
        </Line>
      </dl>
      <PhrasePart state={state} delayKnown={delay === null ? null : delay.kind !== "unknown"} />
    </main>
  );
}

/** Null while no microphone is open: nobody knows yet which delay will count. */
function delayOf(
  { measuredDelays, byHandMs }: SoundCheckScreenProps,
  microphone: MicrophoneState,
  devices: DevicesState,
): DelayInUse | null {
  const byHand = milliseconds(byHandMs);
  if (microphone.kind !== "open") return byHandMs > 0 ? { kind: "by hand", delayMs: byHand } : null;
  const pair = soundPair({ ...microphone, deviceName: microphone.name }, devices);
  return delayInUse(measuredDelays, byHand, pair);
}

function mainAction(session: SoundCheckSession, microphone: MicrophoneState, activity: Activity) {
  if (activity.kind !== "none") return { words: "Stop", act: () => session.stop() };
  if (microphone.kind === "open")
    return { words: "Play the test phrase", act: () => void session.playPhrase() };
  const act = microphone.kind === "closed" ? () => void session.open() : null;
  return { words: "Open the microphone", act };
}

const SIGNS = { ok: "✓", mend: "!", open: "–" } as const;
const SIGN_WORDS = { ok: "well", mend: "to do", open: "not known yet" } as const;

interface LineProps {
  readonly name: string;
  readonly finding: Finding;
  readonly children?: React.ReactNode;
}

function Line({ name, finding, children }: LineProps) {
  return (
    <div className={`line ${finding.kind}`}>
      <dt>
        <span className="sign" aria-hidden="true">
          {SIGNS[finding.kind]}
        </span>
        {name}
        <span className="only-read-aloud">: {SIGN_WORDS[finding.kind]}</span>
      </dt>
      <dd>
        {finding.words !== "" && <p className="finding">{finding.words}</p>}
        {children}
      </dd>
    </div>
  );
}
