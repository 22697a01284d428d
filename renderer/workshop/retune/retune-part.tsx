import { useMemo } from "react";
import type { Layout } from "../../../core/instrument/layout.ts";
import type { PracticeDay } from "../../../core/progress/practice-day.ts";
import { beginRepair } from "../../../core/workshop/retune/repair.ts";
import { retuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { HarpsFromAndTo } from "./harps-from-and-to.tsx";
import { PlanPart } from "./plan-part.tsx";
import { RepairPart } from "./repair-part.tsx";
import { openRepair, withRepair } from "./repairs.ts";
import { beginningHarp, type RetuneView, wantedHarp } from "./retune-view.ts";
import { StockPart } from "./stock-part.tsx";
import { UnderWay } from "./under-way.tsx";
import "./retune.css";

export interface RetunePartProps {
  /** The player's own harps; null while they are read. */
  readonly owned: readonly OwnedHarp[] | null;
  /** The player's own layouts. */
  readonly own: readonly Layout[];
  readonly a4Hz: number;
  readonly view: RetuneView;
  readonly onView: (view: RetuneView) => void;
  readonly onKeep: (harp: OwnedHarp) => void;
  readonly newId: () => string;
  readonly today: () => PracticeDay;
}

/** From the harp one has to the layout one wants: the plan, the harp to begin with, and the work as it goes on. */
export function RetunePart(props: RetunePartProps) {
  const { owned, view, onView, onKeep, today } = props;
  if (owned === null) return <p role="status">Reading the harps …</p>;
  const opened = owned.find(({ id }) => id === view.openRepairOf);
  const repair = opened === undefined ? null : openRepair(opened);
  if (opened !== undefined && repair !== null) {
    return (
      <RepairPart
        repair={repair}
        today={today}
        onChange={(next) => onKeep(withRepair(opened, next))}
        onDone={(next, harp) => {
          onKeep({ ...withRepair(opened, next), harp });
          onView({ ...view, openRepairOf: null });
        }}
        onGiveUp={() => {
          onKeep({ ...opened, repairs: (opened.repairs ?? []).filter(({ id }) => id !== repair.id) });
          onView({ ...view, openRepairOf: null });
        }}
        onLeave={() => onView({ ...view, openRepairOf: null })}
      />
    );
  }
  return <Planning {...props} owned={owned} />;
}

function Planning(props: RetunePartProps & { readonly owned: readonly OwnedHarp[] }) {
  const { owned, own, a4Hz, view, onView, onKeep, newId, today } = props;
  const made = useMemo(
    () => retuningPlan(beginningHarp(view, owned, a4Hz), wantedHarp(view, a4Hz), view.rules),
    [view, owned, a4Hz],
  );
  const begins = owned.find(({ id }) => id === view.ownId) ?? null;
  const begin = () => {
    if (begins === null || made.kind !== "plan") return;
    onKeep(withRepair(begins, beginRepair(newId(), made.plan, today())));
    onView({ ...view, openRepairOf: begins.id });
  };
  return (
    <>
      <UnderWay owned={owned} onOpen={(id) => onView({ ...view, openRepairOf: id })} />
      <HarpsFromAndTo owned={owned} own={own} a4Hz={a4Hz} view={view} onView={onView} />
      {made.kind === "not possible" ? (
        <p className="notice" role="alert">
          It cannot be done: {made.reason}.
        </p>
      ) : (
        <PlanPart
          plan={made.plan}
          begins={begins !== null && openRepair(begins) === null ? begin : null}
          whyNotBegun={
            begins === null
              ? "Add the harp to My harps to write down what you read, pass by pass."
              : "This harp is being worked on: open it above."
          }
        />
      )}
      <StockPart owned={owned} a4Hz={a4Hz} view={view} onView={onView} />
    </>
  );
}
