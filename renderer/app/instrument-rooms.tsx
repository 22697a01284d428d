import type { Hz, Seconds } from "../../core/units.ts";
import { HarpsScreen } from "../harps/harps-screen.tsx";
import { InstrumentScreen } from "../instrument/instrument-screen.tsx";
import { type InstrumentView, leaveDraft } from "../instrument/instrument-view.ts";
import type { Services } from "./services.ts";
import type { useHarps } from "./use-harps.ts";

interface InstrumentRoomsProps {
  readonly kind: "instrument" | "harps";
  readonly services: Services;
  readonly harps: ReturnType<typeof useHarps>;
  readonly view: InstrumentView;
  readonly a4Hz: number;
  readonly onView: (view: InstrumentView) => void;
  readonly onSound: (pitches: readonly Hz[], length: Seconds) => void;
  readonly onEnter: (room: { readonly kind: "instrument" | "harps" }) => void;
}

/** What a layout gives, and which harps the player has. */
export function InstrumentRooms(props: InstrumentRoomsProps) {
  const { kind, services, harps, view, a4Hz, onView, onEnter } = props;
  return (
    <>
      <p className="row parts-of-room">
        <button
          type="button"
          aria-current={kind === "instrument" ? "page" : undefined}
          onClick={() => onEnter({ kind: "instrument" })}
        >
          Layouts
        </button>
        <button
          type="button"
          aria-current={kind === "harps" ? "page" : undefined}
          onClick={() => onEnter({ kind: "harps" })}
        >
          My harps
        </button>
      </p>
      {kind === "instrument" ? (
        <InstrumentScreen
          view={view}
          a4Hz={a4Hz}
          own={harps.layouts}
          onView={onView}
          onSound={props.onSound}
          newId={services.newId}
          onKeep={harps.keepLayout}
          onDelete={harps.removeLayout}
        />
      ) : (
        <HarpsScreen
          list={harps.list}
          own={harps.layouts.map((one) => one.layout)}
          a4Hz={a4Hz}
          newId={services.newId}
          onKeep={harps.keepHarp}
          onDelete={harps.removeHarp}
          onShow={(chosen) => {
            onView(leaveDraft({ ...view, chosen }));
            onEnter({ kind: "instrument" });
          }}
        />
      )}
    </>
  );
}
