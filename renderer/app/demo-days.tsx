import type { HistoryRead } from "../history/history-screen.tsx";
import { DemoLabel, DemoOffer } from "../ui/demo-notes.tsx";
import type { Room } from "./room.ts";
import type { useDemoDays } from "./use-demo-days.ts";

interface DemoDaysProps {
  readonly demo: ReturnType<typeof useDemoDays>;
  readonly room: Room["kind"];
  readonly history: HistoryRead;
}

/** Where what the history says is shown, and with it the made-up days. */
const SHOW: readonly Room["kind"][] = ["today", "progress", "tunes", "tune"];
/** Where they are offered as long as there is nothing. */
const OFFER: readonly Room["kind"][] = ["today", "progress"];

/** Stands above a room: whether what is shown there was made up. */
export function DemoAbove({ demo, room, history }: DemoDaysProps) {
  const { work, remove, stop } = demo;
  const attempts = history.kind === "read" ? history.facets.demo : 0;
  return (
    <>
      {work.kind === "trouble" && (
        <p className="notice" role="alert">
          {work.words}
        </p>
      )}
      {SHOW.includes(room) && work.kind !== "adding" && (
        <DemoLabel attempts={attempts} work={work} onRemove={remove} onStop={stop} />
      )}
    </>
  );
}

/** Stands below a room that has nothing to show yet: made-up days to see it with. */
export function DemoBelow({ demo, room, history }: DemoDaysProps) {
  const { work, add, stop } = demo;
  const isEmpty = history.kind === "read" && history.facets.attempts === 0 && work.kind !== "removing";
  if (!OFFER.includes(room) || !(isEmpty || work.kind === "adding")) return null;
  return <DemoOffer work={work} onAdd={add} onStop={stop} />;
}
