import { useEffect, useRef, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { type RungState, rungTempo } from "../../core/exercise/tune-ladder.ts";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { danceTempo, type OpenTune, rungStretch, stretchExercise } from "./tune-view.ts";

interface NowLineProps {
  readonly open: OpenTune;
  readonly plan: TunePlan;
  readonly abilities: Abilities;
  readonly onStudy: (study: TuneStudy) => void;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
  readonly onLeave: () => void;
  readonly now: RungState | null;
  readonly onClimb: (state: RungState) => void;
}

/** The next thing to do, in one sentence, and the button that does it. */
export function NowLine({ open, plan, abilities, now, onStudy, onClimb, onHear, onLeave }: NowLineProps) {
  const main = useRef<HTMLButtonElement>(null);
  const silence = useRef<(() => void) | null>(null);
  const [hearing, setHearing] = useState(false);
  useEffect(() => main.current?.focus(), []);
  const asked = useRef(0);
  useEffect(
    () => () => {
      asked.current++;
      silence.current?.();
    },
    [],
  );
  const hush = () => {
    asked.current++;
    silence.current?.();
    silence.current = null;
    setHearing(false);
  };
  const hear = async () => {
    if (silence.current !== null) return hush();
    const whole = plan.ladder.at(-1);
    const rung = now?.rung ?? whole;
    if (rung === undefined) return;
    const exercise = stretchExercise(open, plan, abilities, { ...rungStretch(rung), times: 1 });
    if (exercise.kind === "impossible") return;
    const mine = ++asked.current;
    setHearing(true);
    const stop = await onHear(exercise.exercise, () => {
      hush();
      const heard = open.study.heard ?? [];
      if (rung.kind === "listen" && !heard.includes(rung.id))
        onStudy({ ...open.study, heard: [...heard, rung.id] });
    }).catch(() => null);
    if (stop === null) return hush();
    // Hushed, or left, before it began.
    if (mine === asked.current) silence.current = stop;
    else stop();
  };
  const act = () => (now === null || now.rung.kind === "listen" ? void hear() : onClimb(now));
  useVerbs({ start: act, hear: () => void hear(), leave: onLeave });
  return (
    <div className="no-print">
      <p className="one-sentence" aria-live="polite">
        {nowInWords(now, danceTempo(open))}
      </p>
      <p className="what-now">
        <button ref={main} type="button" className="main" onClick={act}>
          {now === null || now.rung.kind === "listen" ? (hearing ? "Hush" : "Listen") : "Practise this"}{" "}
          <Key verb="start" />
        </button>
        <button type="button" onClick={() => void hear()}>
          {hearing ? "Hush" : "Hear it"} <Key verb="hear" />
        </button>
      </p>
    </div>
  );
}

function nowInWords(now: RungState | null, dance: ReturnType<typeof danceTempo>): string {
  if (now === null) return "Up to dance tempo: every rung is climbed.";
  const { rung, inARow, attempts } = now;
  if (rung.kind === "listen") return `First listen to ${rung.words}.`;
  const tempo = tempoSign({ ...dance, bpm: rungTempo(dance.bpm, rung) });
  const so = attempts === 0 ? "" : ` ${inARow} in a row so far.`;
  return `Now ${rung.words} at ${tempo}.${so}`;
}
