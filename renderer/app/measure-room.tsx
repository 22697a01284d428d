import { MeasurePart } from "../workshop/measure/measure-part.tsx";
import type { Services } from "./services.ts";
import type { useHarps } from "./use-harps.ts";

interface MeasureRoomProps {
  readonly services: Services;
  readonly harps: ReturnType<typeof useHarps>;
  readonly onAddHarp: () => void;
}

/** Measuring the reeds of the player's own harps. */
export function MeasureRoom({ services, harps, onAddHarp }: MeasureRoomProps) {
  const { list } = harps;
  if (list.kind === "trouble") {
    return (
      <p className="notice" role="alert">
        {list.words}
      </p>
    );
  }
  return (
    <MeasurePart
      services={services}
      harps={list.kind === "harps" ? list.harps : null}
      onKeepHarp={harps.keepHarp}
      onAddHarp={onAddHarp}
    />
  );
}
