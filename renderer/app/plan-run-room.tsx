import { type ComponentProps, useSyncExternalStore } from "react";
import { isBusy } from "../practice/practice-state.ts";
import { PlanOpening, PlanOver, PlanRest, PlanStuck } from "../today/plan-rest.tsx";
import { PlanStrip } from "../today/plan-strip.tsx";
import type { PlanRun } from "./plan-run.ts";
import type { RunMoment } from "./plan-run-state.ts";
import { PracticeRoom } from "./practice-room.tsx";

interface PlanRunRoomProps
  extends Omit<ComponentProps<typeof PracticeRoom>, "room" | "onPractise" | "onLeave" | "onDrillTempo"> {
  readonly run: PlanRun;
  readonly onLeave: () => void;
}

/** A plan being played: the sheet with where the plan is above it, rests, and the end. */
export function PlanRunRoom({ run, onLeave, ...practice }: PlanRunRoomProps) {
  const { kept, moment, told } = useSyncExternalStore(run.subscribe, run.getState);
  switch (moment.kind) {
    case "over":
      return <PlanOver kept={kept} onLeave={onLeave} />;
    case "opening":
      return <PlanOpening title={moment.part.title} onLeave={onLeave} />;
    case "stuck":
      return (
        <PlanStuck
          words={moment.words}
          seconds={moment.goesOnInSeconds}
          onGoOn={() => run.startOrStay()}
          onLeave={onLeave}
        />
      );
    case "resting":
      return (
        <>
          <Strip run={run} moment={moment} isFree told={told} />
          <PlanRest
            kept={kept}
            line={moment.line}
            staying={moment.staying}
            onStartOrStay={() => run.startOrStay()}
            onLeave={onLeave}
          />
        </>
      );
    case "playing":
      return <Playing run={run} moment={moment} told={told} practice={practice} onLeave={onLeave} />;
  }
}

interface PlayingProps {
  readonly run: PlanRun;
  readonly moment: Extract<RunMoment, { kind: "playing" }>;
  readonly told: string | null;
  readonly practice: Omit<PlanRunRoomProps, "run" | "onLeave">;
  readonly onLeave: () => void;
}

function Playing({ run, moment, told, practice, onLeave }: PlayingProps) {
  const { session, held } = moment;
  const state = useSyncExternalStore(session.subscribe, session.getState);
  return (
    <>
      <Strip run={run} moment={moment} isFree={!isBusy(state) || state.kind === "hearing"} told={told} />
      <PracticeRoom
        {...practice}
        room={{ kind: "practice", session, held }}
        onPractise={(exercise, why, how) => run.practise(exercise, why ?? null, how)}
        onDrillTempo={() => {}}
        onLeave={onLeave}
      />
    </>
  );
}

interface StripProps {
  readonly run: PlanRun;
  readonly moment: Extract<RunMoment, { kind: "playing" | "resting" }>;
  readonly isFree: boolean;
  readonly told: string | null;
}

const Strip = ({ run, moment, isFree, told }: StripProps) => (
  <PlanStrip
    kept={run.getState().kept}
    line={moment.line}
    beginsInSeconds={moment.kind === "playing" ? moment.beginsInSeconds : null}
    told={told}
    isFree={isFree}
    onSkip={() => run.skip()}
    onSwap={() => run.swap()}
    onLengthen={() => run.lengthen()}
  />
);
