import { useMemo } from "react";
import type { Layout } from "../../../core/instrument/layout.ts";
import { type PracticeDay, practiceDay } from "../../../core/progress/practice-day.ts";
import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { beginRepair } from "../../../core/workshop/retune/repair.ts";
import { retuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import type { MeasurementStore } from "../../store/measurement-store.ts";
import { longDay } from "../../ui/day-words.ts";
import { useMeasurements } from "../measure/use-measurements.ts";
import { HarpsFromAndTo } from "./harps-from-and-to.tsx";
import { PlanPart } from "./plan-part.tsx";
import { RepairPart } from "./repair-part.tsx";
import { openRepair, withRepair } from "./repairs.ts";
import { beginningHarp, type RetuneView, standingMeasurement, wantedHarp } from "./retune-view.ts";
import { StockPart } from "./stock-part.tsx";
import { UnderWay } from "./under-way.tsx";
import "./retune.css";

export interface RetunePartProps {
  /** The player's own harps; null while they are read. */
  readonly owned: readonly OwnedHarp[] | null;
  /** The player's own layouts. */
  readonly own: readonly Layout[];
  readonly a4Hz: number;
  readonly measurements: MeasurementStore;
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
  const { owned, own, a4Hz, measurements, view, onView, onKeep, newId, today } = props;
  const begins = owned.find(({ id }) => id === view.ownId) ?? null;
  const { list, trouble } = useMeasurements(measurements, begins?.id ?? null);
  const measurement = begins === null ? null : standingMeasurement(begins, list ?? []);
  const isReading = begins !== null && list === null && trouble === null;
  const made = useMemo(
    () => retuningPlan(beginningHarp(view, owned, a4Hz, measurement), wantedHarp(view, a4Hz), view.rules),
    [view, owned, a4Hz, measurement],
  );
  const begin = () => {
    if (begins === null || made.kind !== "plan") return;
    onKeep(withRepair(begins, beginRepair(newId(), made.plan, today())));
    onView({ ...view, openRepairOf: begins.id });
  };
  return (
    <>
      <UnderWay
        owned={owned}
        onOpen={(id) => onView({ ...view, openRepairOf: id })}
        onGoOn={(harp, repair) => {
          onKeep({ ...withRepair(harp, { ...repair, doneOn: null }), harp: repair.from });
          onView({ ...view, openRepairOf: harp.id });
        }}
      />
      <HarpsFromAndTo owned={owned} own={own} a4Hz={a4Hz} view={view} onView={onView} />
      {begins !== null && <MeasuredLine own={begins} measurement={measurement} trouble={trouble} />}
      {isReading && <p role="status">Reading what was measured …</p>}
      {!isReading && made.kind === "not possible" && (
        <p className="notice" role="alert">
          It cannot be done: {made.reason}.
        </p>
      )}
      {!isReading && made.kind === "plan" && (
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

interface MeasuredLineProps {
  readonly own: OwnedHarp;
  readonly measurement: KeptMeasurement | null;
  readonly trouble: string | null;
}

/** What the plan takes the reeds to sound now. */
function MeasuredLine({ own, measurement, trouble }: MeasuredLineProps) {
  if (trouble !== null)
    return (
      <p className="notice" role="alert">
        {trouble}
      </p>
    );
  if (measurement !== null)
    return (
      <p>
        The harp as it was measured on {longDay(practiceDay(measurement.changedAtEpochMs, measurement.zone))}.
      </p>
    );
  if (own.harp.reedOffsets !== undefined) return <p>The harp as it was read last.</p>;
  return (
    <p className="soft">
      Not measured: every reed is taken as it should sound. Measure the reeds to know better.
    </p>
  );
}
