import { UndoNotice } from "../ui/undo-notice.tsx";
import { ArchiveReminder } from "./archive-parts.tsx";
import { GivenNotice } from "./given-files.tsx";
import { HearingCaution } from "./hearing-caution.tsx";
import { SheetsAbove } from "./sheets-above.tsx";
import { TakesAside } from "./takes-aside.tsx";
import type { OpenWindow } from "./use-window.ts";

/** What is told above whichever room is open: troubles, what is going on, what can be taken back. */
export function AboveRoom({ all }: { readonly all: OpenWindow }) {
  const { real, services, settings, change, history, room, harps, tunes, given, practising } = all;
  const { said, news, openingWords, hasSounded } = all;
  return (
    <>
      <SheetsAbove sheets={all.sheets} isDesktop={real.archiving.bridge !== null} />
      <GivenNotice given={given} />
      <TakesAside
        services={services}
        version={history.version}
        room={room}
        atStart={all.trouble}
        onOpen={practising.reopen}
        onBeginAgain={all.onBeginAgain}
      />
      {said !== null && (
        <p className="notice" role="alert">
          {said}
        </p>
      )}
      {news !== null && <p role="status">{news}</p>}
      {(room.kind === "today" || room.kind === "progress") && (
        <ArchiveReminder services={real} version={history.version} />
      )}
      {openingWords !== null && <p role="status">{openingWords}</p>}
      {harps.deleted !== null && <UndoNotice words={harps.deleted} onUndo={harps.undo} />}
      {tunes.deleted !== null && <UndoNotice words={tunes.deleted} onUndo={tunes.undo} />}
      {hasSounded && !settings.cautionsRead.includes("Hearing") && (
        <HearingCaution
          room={room}
          onRead={(risk) => change({ cautionsRead: [...settings.cautionsRead, risk] })}
        />
      )}
    </>
  );
}
