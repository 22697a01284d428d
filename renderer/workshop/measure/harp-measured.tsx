import { type ReactNode, useRef, useState } from "react";
import type { Harp } from "../../../core/instrument/harp.ts";
import { EQUAL, type Temperament } from "../../../core/instrument/temperament.ts";
import { hz } from "../../../core/units.ts";
import { driftInWords, driftOf } from "../../../core/workshop/measure/drift.ts";
import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { offsetsFor } from "../../../core/workshop/measure/reed-results.ts";
import { sameNotes, workedOnSince } from "../../../core/workshop/measure/same-harp.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { BusyLine } from "../../ui/busy-line.tsx";
import { NumberChoice } from "../../ui/choice.tsx";
import { TemperamentChoice } from "../../ui/harp-choice.tsx";
import { BeatsPart } from "./beats-part.tsx";
import type { MeasureServices } from "./measure-services.ts";
import { MeasurementList } from "./measurement-list.tsx";
import { ResultsPart } from "./results-part.tsx";
import type { Measurements } from "./use-measurements.ts";
import { useRecordedWalk } from "./use-recorded-walk.ts";

interface HarpMeasuredProps {
  readonly services: MeasureServices;
  readonly owned: OwnedHarp;
  readonly measurements: Measurements;
  readonly choice: ReactNode;
  readonly newOne: (afterReedWork: boolean) => KeptMeasurement;
  readonly onWalk: (measurement: KeptMeasurement) => void;
  readonly onKeepHarp: (harp: OwnedHarp) => void;
}

/** A harp, what was measured of it, and the ways to measure it. */
export function HarpMeasured(props: HarpMeasuredProps) {
  const { services, owned, measurements, choice, newOne, onWalk } = props;
  const [openId, setOpenId] = useState<string | null>(null);
  const [ticked, setTicked] = useState<boolean | null>(null);
  const file = useRef<HTMLInputElement>(null);
  const recorded = useRecordedWalk(services, (measurement) => {
    measurements.keep(measurement);
    setOpenId(measurement.id);
  });
  const list = measurements.list ?? [];
  const open = list.find(({ id }) => id === openId) ?? list[0];
  const unfinished = list.find(
    ({ finished, source, harp }) => !finished && source === "microphone" && sameNotes(harp, owned.harp),
  );
  // The log of retunings knows; the player knows better.
  const reworked = ticked ?? (list[0] !== undefined && workedOnSince(owned.repairs ?? [], list[0]));
  const done = unfinished?.reeds.filter(({ outcome }) => outcome !== null).length ?? 0;
  return (
    <>
      <div className="row">{choice}</div>
      {list.length > 0 && (
        <label>
          <input type="checkbox" checked={reworked} onChange={(event) => setTicked(event.target.checked)} /> I
          have worked on these reeds since they were measured last
        </label>
      )}
      <div className="row">
        {unfinished !== undefined && (
          <button type="button" className="main" onClick={() => onWalk(unfinished)}>
            Go on: {done} of {unfinished.reeds.length} reeds done
          </button>
        )}
        <button
          type="button"
          className={unfinished === undefined ? "main" : undefined}
          onClick={() => onWalk(newOne(reworked))}
        >
          {unfinished === undefined ? "Walk along the reeds" : "Begin a new walk"}
        </button>
        <button type="button" onClick={() => file.current?.click()}>
          Measure a recording of the walk
        </button>
        <input
          ref={file}
          type="file"
          hidden
          accept="audio/*,.wav"
          aria-label="Recording of the walk"
          onChange={(event) => {
            const chosen = event.target.files?.[0];
            event.target.value = "";
            if (chosen !== undefined) void recorded.open(chosen, newOne(reworked));
          }}
        />
      </div>
      {recorded.share !== null && (
        <BusyLine words="Measuring the recording" share={recorded.share} onStop={recorded.stop} />
      )}
      {recorded.words.map((words) => (
        <p key={words} className="notice" role="status">
          {words}
        </p>
      ))}
      {measurements.list === null && <p role="status">Reading what was measured …</p>}
      {measurements.list !== null && open === undefined && (
        <p>
          Nothing measured yet. The walk asks for each reed in turn and goes on by itself: three short steady
          notes each, some three minutes in all.
        </p>
      )}
      {open !== undefined && <OpenMeasurement key={open.id} {...props} open={open} />}
      {list.length > 1 && <DriftPart list={list} />}
      {list.length > 0 && (
        <MeasurementList
          list={list}
          openId={open?.id ?? null}
          onOpen={setOpenId}
          onRemove={measurements.remove}
        />
      )}
    </>
  );
}

/** One measurement against a tuning, and whether marks take it off. */
function OpenMeasurement(props: HarpMeasuredProps & { readonly open: KeptMeasurement }) {
  const { services, owned, open, onKeepHarp } = props;
  const [temperament, setTemperament] = useState<Temperament>(open.harp.temperament ?? EQUAL);
  const [a4Hz, setA4Hz] = useState<number>(open.harp.a4);
  const harp: Harp = { ...open.harp, a4: hz(a4Hz), temperament };
  const offsets = sameNotes(owned.harp, open.harp) ? offsetsFor(owned.harp, open) : [];
  const isUsed = JSON.stringify(owned.harp.reedOffsets ?? null) === JSON.stringify(offsets);
  const anyMeasured = offsets.some(({ blow, draw }) => blow !== null || draw !== null);
  return (
    <section className="measured" aria-label="What was measured">
      <div className="row">
        <TemperamentChoice
          temperament={temperament}
          own={open.harp.temperament ?? EQUAL}
          onChange={setTemperament}
        />
        <NumberChoice legend="A4" unit="Hz" value={a4Hz} low={400} high={480} step={1} onChange={setA4Hz} />
      </div>
      <ResultsPart measurement={open} harp={harp} />
      {anyMeasured && (
        <p className="row">
          <button
            type="button"
            aria-pressed={isUsed}
            onClick={() =>
              onKeepHarp({
                ...owned,
                harp: isUsed ? withoutOffsets(owned.harp) : { ...owned.harp, reedOffsets: offsets },
              })
            }
          >
            {isUsed ? "Marks take these offsets off: stop that" : "Take these offsets off in marks"}
          </button>
          <span className="soft">
            A mark then says what is yours and what is the reed's, as “you +4 cents, the reed +9 cents”.
            Attempts before and after are not compared with one another.
          </span>
        </p>
      )}
      <BeatsPart
        measurement={open}
        harp={harp}
        openMicrophone={services.openMicrophone}
        work={services.measureWork}
      />
    </section>
  );
}

function withoutOffsets({ reedOffsets: _, ...harp }: Harp): Harp {
  return harp;
}

function DriftPart({ list }: { readonly list: readonly KeptMeasurement[] }) {
  const drift = driftOf(list);
  if (drift === null) return null;
  return (
    <section aria-label="Drift">
      <h2>
        Since {new Date(drift.fromEpochMs).toLocaleDateString("en-GB")}, over {drift.measurements}{" "}
        measurements
      </h2>
      <ul className="drift">
        {driftInWords(drift).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </section>
  );
}
