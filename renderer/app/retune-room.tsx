import { useState } from "react";
import { practiceDay } from "../../core/progress/practice-day.ts";
import type { Settings } from "../store/settings-store.ts";
import { RetunePart } from "../workshop/retune/retune-part.tsx";
import { type RetuneView, retuneViewOfSettings, retuneViewToKeep } from "../workshop/retune/retune-view.ts";
import type { Services } from "./services.ts";
import type { useHarps } from "./use-harps.ts";

interface RetuneRoomProps {
  readonly services: Pick<Services, "newId" | "nowEpochMs" | "zone" | "measurements">;
  readonly harps: ReturnType<typeof useHarps>;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
}

/** The retuning plan among the player's harps and layouts. */
export function RetuneRoom({ services, harps, settings, onSettings }: RetuneRoomProps) {
  const [view, setView] = useState(() => retuneViewOfSettings(settings.lastRetuning));
  const look = (next: RetuneView) => {
    setView(next);
    onSettings({ lastRetuning: retuneViewToKeep(next) });
  };
  const { list, layouts } = harps;
  return (
    <>
      {list.kind === "trouble" && (
        <p className="notice" role="alert">
          {list.words}
        </p>
      )}
      <RetunePart
        // Where the player's harps cannot be read, any other can still be retuned.
        owned={list.kind === "harps" ? list.harps : list.kind === "trouble" ? [] : null}
        own={layouts.map(({ layout }) => layout)}
        a4Hz={settings.a4Hz}
        measurements={services.measurements}
        view={view}
        onView={look}
        onKeep={harps.keepHarp}
        newId={services.newId}
        today={() => practiceDay(services.nowEpochMs(), services.zone())}
      />
    </>
  );
}
