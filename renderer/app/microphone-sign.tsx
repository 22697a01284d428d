import { useSyncExternalStore } from "react";
import type { OpenMicrophones } from "../audio/open-microphones.ts";

/** Says on every screen that a microphone is open, for exactly as long as one is. */
export function MicrophoneSign({ microphones }: { readonly microphones: OpenMicrophones }) {
  const names = useSyncExternalStore(microphones.subscribe, microphones.getState);
  // It keeps its place while it is not shown: the rooms do not move.
  return (
    <span
      className={names.length > 0 ? "microphone-sign" : "microphone-sign is-closed"}
      title={names.filter((name) => name !== "").join(", ")}
    >
      <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        <circle cx="8" cy="8" r="6" />
      </svg>
      Microphone open
    </span>
  );
}
