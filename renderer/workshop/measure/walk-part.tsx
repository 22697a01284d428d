import { useEffect, useRef, useSyncExternalStore } from "react";
import { reedNote } from "../../../core/instrument/harp.ts";
import { noteName } from "../../../core/pitch/note-names.ts";
import { READINGS_WANTED } from "../../../core/workshop/measure/agreement.ts";
import { plainAction } from "../../../core/workshop/measure/harp-sounds.ts";
import type { MeasuredReed } from "../../../core/workshop/measure/measurement.ts";
import { reedNow } from "../../../core/workshop/measure/walk.ts";
import { doInWords } from "../../ui/breath-words.ts";
import { HarpPicture } from "../../ui/harp-picture.tsx";
import { Key, useVerbs } from "../../ui/use-verbs.tsx";
import { useWriting } from "../../ui/writing.ts";
import type { WalkSession } from "./walk-session.ts";
import { walkInWords } from "./walk-words.ts";

interface WalkPartProps {
  readonly session: WalkSession;
  /** Note names of the harp's key. */
  readonly spelling: readonly string[];
  readonly onLeave: () => void;
}

/** The walk: one reed at a time, read from a metre; no hand is needed while it goes on. */
export function WalkPart({ session, spelling, onLeave }: WalkPartProps) {
  const state = useSyncExternalStore(session.subscribe, session.getState);
  const main = useRef<HTMLButtonElement>(null);
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    main.current?.focus({ preventScroll: true });
    // With large text the reed that is asked for comes before the way through the rooms.
    section.current?.scrollIntoView?.({ block: "nearest" });
    if ((section.current?.getBoundingClientRect().height ?? 0) > window.innerHeight)
      section.current?.scrollIntoView?.({ block: "start" });
  }, []);
  const { walk, activity } = state;
  const { harp, reeds } = walk.measurement;
  const reed = reedNow(walk);
  const done = reeds.filter(({ outcome }) => outcome !== null).length;
  const isPaused = activity.kind === "paused";
  const skip = () => session.settle("skipped");
  useVerbs({
    start: () => (reed === null ? onLeave() : session.toggle()),
    hear: skip,
    "next phrase": skip,
    "phrase before": () => session.back(),
    "reed gives no sound": () => session.settle("silent"),
    "take the note": walk.held === null ? null : () => session.takeIt(),
    leave: onLeave,
  });
  return (
    <section ref={section} className="walk" aria-label="The walk along the reeds">
      {reed === null ? (
        <p className="reed-asked">All reeds done</p>
      ) : (
        <ReedAsked reed={reed} note={noteOf(reedNote(harp, reed.hole, reed.breath), spelling)} />
      )}
      <p className="walk-says" role="status">
        {walkInWords(state, reed)}
      </p>
      <HarpPicture harp={harp} spelling={spelling} next={reed === null ? null : plainAction(reed)} />
      <p className="soft">
        {done} of {reeds.length} reeds done.{" "}
        {activity.kind === "listening" && (state.sounding ? "Sounding." : "Silent.")}
      </p>
      <div className="row">
        <button
          ref={main}
          type="button"
          className="main"
          onClick={() => (reed === null ? onLeave() : session.toggle())}
        >
          {reed === null ? "Show the result" : isPaused ? "Go on" : "Pause"} <Key verb="start" />
        </button>
        {walk.held !== null && (
          <button type="button" onClick={() => session.takeIt()}>
            It is this reed: take it <Key verb="take the note" />
          </button>
        )}
        {reed !== null && (
          <>
            <button type="button" onClick={skip}>
              Skip it <Key verb="next phrase" />
            </button>
            <button type="button" onClick={() => session.back()}>
              The one before, anew <Key verb="phrase before" />
            </button>
            <button type="button" onClick={() => session.settle("silent")}>
              It gives no sound <Key verb="reed gives no sound" />
            </button>
            <button type="button" onClick={() => session.settle("broken")}>
              It is broken
            </button>
          </>
        )}
        <button type="button" onClick={onLeave}>
          Leave, and keep what there is <Key verb="leave" />
        </button>
      </div>
      <p className="soft">Pedals: page down pauses and goes on, page up skips the reed.</p>
    </section>
  );
}

const noteOf = (note: number | null, spelling: readonly string[]) =>
  note === null ? "" : noteName(note as Parameters<typeof noteName>[0], spelling);

function ReedAsked({ reed, note }: { readonly reed: MeasuredReed; readonly note: string }) {
  const writing = useWriting();
  const action = plainAction(reed);
  const counted = reed.readings.length;
  const dots = Math.max(READINGS_WANTED, counted);
  return (
    <p className="reed-asked">
      <span className="tab">{writing.action(action)}</span> {doInWords(action)}{" "}
      <span className="soft">{writing.note(note)}</span>{" "}
      <span className="counted" role="img" aria-label={`${counted} of ${READINGS_WANTED} notes counted`}>
        {Array.from({ length: dots }, (_, n) => (n < counted ? "●" : "○")).join(" ")}
      </span>
    </p>
  );
}
