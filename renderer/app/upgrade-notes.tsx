import { useEffect, useRef } from "react";
import { BusyLine } from "../ui/busy-line.tsx";
import "./upgrade-notes.css";

interface UpgradingProps {
  /** Share done, 0..1. */
  readonly share: number;
  readonly onStop: () => void;
}

/** Stands alone in the window while an older history is brought up to this version. */
export function Upgrading({ share, onStop }: UpgradingProps) {
  return (
    <main className="upgrade">
      <h1>Reedpath</h1>
      <BusyLine words="Your history is brought up to this version" share={share} onStop={onStop} />
      <p className="soft">Stopped, or cut short, nothing is changed.</p>
    </main>
  );
}

/** Stands there once that was stopped. */
export function UpgradeStopped({ onGoOn }: { readonly onGoOn: () => void }) {
  const goOn = useRef<HTMLButtonElement>(null);
  // Stop had the focus and is gone.
  useEffect(() => goOn.current?.focus(), []);
  return (
    <main className="upgrade">
      <h1>Reedpath</h1>
      <p className="notice" role="status">
        Stopped. Your history is as the earlier version left it; this one opens it once it is brought up to
        it.
      </p>
      <p className="row">
        <button type="button" className="main" ref={goOn} onClick={onGoOn}>
          Go on
        </button>
      </p>
    </main>
  );
}

/** Stands there while another window keeps the history as an earlier version has it. */
export function UpgradeBlocked() {
  return (
    <main className="upgrade">
      <h1>Reedpath</h1>
      <p className="notice" role="alert">
        Another window of this program, of an earlier version, has your history open. Close it, and this one
        goes on.
      </p>
    </main>
  );
}
