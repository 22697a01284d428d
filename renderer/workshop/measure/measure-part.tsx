import { useEffect, useRef, useState } from "react";
import { harpName } from "../../../core/instrument/harp.ts";
import { spellMode } from "../../../core/pitch/modes.ts";
import { emptyMeasurement, type KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { ListChoice } from "../../ui/choice.tsx";
import { useWriting } from "../../ui/writing.ts";
import { HarpMeasured } from "./harp-measured.tsx";
import { MeasureCautions } from "./measure-cautions.tsx";
import type { MeasureServices } from "./measure-services.ts";
import { useMeasurements } from "./use-measurements.ts";
import { WalkPart } from "./walk-part.tsx";
import { WalkSession } from "./walk-session.ts";
import "./measure.css";

interface MeasurePartProps {
  readonly services: MeasureServices;
  /** The player's own harps; null while they are read. */
  readonly harps: readonly OwnedHarp[] | null;
  readonly onKeepHarp: (harp: OwnedHarp) => void;
  /** To where harps are added. */
  readonly onAddHarp: () => void;
}

/** How is every reed of this harp tuned? */
export function MeasurePart({ services, harps, onKeepHarp, onAddHarp }: MeasurePartProps) {
  const [chosenId, setChosenId] = useState<string | null>(null);
  const { say } = useWriting();
  if (harps === null) return <p role="status">Reading the harps …</p>;
  const owned = harps.find(({ id }) => id === chosenId) ?? harps[0];
  if (owned === undefined) {
    return (
      <>
        <p>
          Here every reed of a harp is heard and measured, hole by hole. Add the harp first: what is measured
          is kept with it.
        </p>
        <p>
          <button type="button" className="main" onClick={onAddHarp}>
            Add a harp
          </button>
        </p>
      </>
    );
  }
  const nameOf = ({ harp, note }: OwnedHarp) =>
    say(note === "" ? harpName(harp) : `${harpName(harp)}: ${note}`);
  return (
    <MeasureOneHarp
      key={owned.id}
      services={services}
      owned={owned}
      onKeepHarp={onKeepHarp}
      choice={
        <ListChoice
          legend="Harp"
          value={owned.id}
          options={harps.map((one) => [one.id, nameOf(one)] as const)}
          onChange={setChosenId}
        />
      }
    />
  );
}

interface MeasureOneHarpProps {
  readonly services: MeasureServices;
  readonly owned: OwnedHarp;
  readonly onKeepHarp: (harp: OwnedHarp) => void;
  readonly choice: React.ReactNode;
}

function MeasureOneHarp({ services, owned, onKeepHarp, choice }: MeasureOneHarpProps) {
  const measurements = useMeasurements(services.measurements, owned.id);
  const [session, setSession] = useState<WalkSession | null>(null);
  const open = useRef<WalkSession | null>(null);
  useEffect(() => () => open.current?.dispose(), []);
  const walk = (begun: KeptMeasurement) => {
    const made = new WalkSession(begun, services.openMicrophone, (measurement) =>
      measurements.keep({
        ...begun,
        ...measurement,
        changedAtEpochMs: services.nowEpochMs(),
        finished: measurement.reeds.every(({ outcome }) => outcome !== null),
      }),
    );
    open.current = made;
    setSession(made);
    void made.listen();
  };
  const leave = () => {
    open.current?.dispose();
    open.current = null;
    setSession(null);
  };
  const newOne = (afterReedWork: boolean): KeptMeasurement => ({
    ...emptyMeasurement(owned.harp, "microphone"),
    id: services.newId(),
    harpId: owned.id,
    beganAtEpochMs: services.nowEpochMs(),
    changedAtEpochMs: services.nowEpochMs(),
    zone: services.zone(),
    finished: false,
    afterReedWork,
  });
  return (
    <>
      {measurements.trouble !== null && (
        <p className="notice" role="alert">
          {measurements.trouble}
        </p>
      )}
      {session === null ? (
        <>
          <MeasureCautions />
          <HarpMeasured
            services={services}
            owned={owned}
            measurements={measurements}
            choice={choice}
            newOne={newOne}
            onWalk={walk}
            onKeepHarp={onKeepHarp}
          />
        </>
      ) : (
        <WalkPart session={session} spelling={spellMode(owned.harp.key, "major")} onLeave={leave} />
      )}
    </>
  );
}
