import { useEffect, useRef, useState } from "react";
import type { Layout } from "../../core/instrument/layout.ts";
import type { OpenMicrophone } from "../audio/microphone.ts";
import { type ChosenHarp, FIRST_HARP } from "../ui/chosen-harp.ts";
import { HarpChoice } from "../ui/harp-choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { FIRST_STEPS, type FirstStep, type StepStates, stepNow } from "./first-step-states.ts";
import { MicrophoneStep } from "./microphone-step.tsx";
import "./first-steps.css";

export interface FirstStepsProps {
  readonly steps: StepStates;
  readonly onSteps: (steps: StepStates) => void;
  /** The player's own layouts. */
  readonly ownLayouts: readonly Layout[];
  readonly onHarp: (chosen: ChosenHarp) => void;
  readonly openMicrophone: OpenMicrophone;
  /** What the first drill is called. */
  readonly drillTitle: string;
  readonly onDrill: () => void;
  readonly onDemonstration: () => void;
}

const TITLES: Readonly<Record<FirstStep, string>> = {
  harp: "My harp",
  microphone: "My microphone",
  drill: "A first drill",
};

/** For someone who is new: three steps, one after the other, each of which can be left out. */
export function FirstSteps(props: FirstStepsProps) {
  const { steps, onSteps } = props;
  const now = stepNow(steps);
  if (now === null) return null;
  const settle = (step: FirstStep, state: "done" | "skipped") => onSteps({ ...steps, [step]: state });
  return (
    <section aria-label="First steps" className="first-steps">
      <p className="soft">Three steps to begin with. None of them has to be taken.</p>
      <ol>
        {FIRST_STEPS.map((step) => (
          <li key={step} aria-current={step === now ? "step" : undefined}>
            <h2>
              {TITLES[step]}
              {steps[step] !== undefined && <span className="soft"> {steps[step]}</span>}
            </h2>
            {step === now && <OpenStep {...props} step={step} onSettle={(state) => settle(step, state)} />}
          </li>
        ))}
      </ol>
      <p>
        <button
          type="button"
          onClick={() =>
            onSteps(Object.fromEntries(FIRST_STEPS.map((step) => [step, steps[step] ?? "skipped"])))
          }
        >
          Skip all of them
        </button>
      </p>
    </section>
  );
}

interface OpenStepProps extends FirstStepsProps {
  readonly step: FirstStep;
  readonly onSettle: (state: "done" | "skipped") => void;
}

/** The step one is at; the keys are with it. */
function OpenStep({ step, onSettle, ...props }: OpenStepProps) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.querySelector<HTMLElement>("button.main")?.focus(), []);
  return (
    <div ref={box} className="open-step">
      {step === "harp" && (
        <HarpStep
          own={props.ownLayouts}
          onHarp={(chosen) => {
            props.onHarp(chosen);
            onSettle("done");
          }}
        />
      )}
      {step === "microphone" && (
        <MicrophoneStep openMicrophone={props.openMicrophone} onDone={() => onSettle("done")} />
      )}
      {step === "drill" && (
        <DrillStep
          title={props.drillTitle}
          onDrill={() => {
            onSettle("done");
            props.onDrill();
          }}
          onDemonstration={props.onDemonstration}
        />
      )}
      <button type="button" onClick={() => onSettle("skipped")}>
        Skip<span className="only-read-aloud">: {TITLES[step]}</span>
      </button>
    </div>
  );
}

interface HarpStepProps {
  readonly own: readonly Layout[];
  readonly onHarp: (chosen: ChosenHarp) => void;
}

function HarpStep({ own, onHarp }: HarpStepProps) {
  const [chosen, setChosen] = useState<ChosenHarp>(FIRST_HARP);
  return (
    <>
      <p>Which harp do you have in your hands? Marks and pictures go by its layout and its key.</p>
      <div className="first-harp">
        <HarpChoice chosen={chosen} own={own} onChange={setChosen} />
      </div>
      <button type="button" className="main" onClick={() => onHarp(chosen)}>
        This is my harp
      </button>
    </>
  );
}

interface DrillStepProps {
  readonly title: string;
  readonly onDrill: () => void;
  readonly onDemonstration: () => void;
}

function DrillStep({ title, onDrill, onDemonstration }: DrillStepProps) {
  const { say } = useWriting();
  return (
    <>
      <p>{say(title)}, slowly. Four beats are counted in; afterwards every note has its mark.</p>
      <button type="button" className="main" onClick={onDrill}>
        Open the drill
      </button>
      <button type="button" onClick={onDemonstration}>
        Without a microphone: see a simulated player marked
      </button>
    </>
  );
}
