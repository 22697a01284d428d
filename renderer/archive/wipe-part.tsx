import { useState } from "react";
import type { Archives } from "./use-archives.ts";

interface WipePartProps {
  readonly archives: Archives;
  readonly hasBackups: boolean;
}

/** Deletes everything, in two steps, an archive being offered first. */
export function WipePart({ archives, hasBackups }: WipePartProps) {
  const [asking, setAsking] = useState(false);
  const [isSure, setSure] = useState(false);
  const isBusy = archives.state.kind === "busy";
  if (!asking)
    return (
      <p>
        <button type="button" disabled={isBusy} onClick={() => setAsking(true)}>
          Delete everything …
        </button>
      </p>
    );
  const leave = () => {
    setAsking(false);
    setSure(false);
  };
  return (
    <section className="wipe-part notice" aria-label="Delete everything">
      <p>
        All attempts, takes, tunes, set lists, harps, layouts and settings go from this computer for good.
        Only an archive brings them back.
        {hasBackups && " The backups on the disk stay."}
      </p>
      <p>
        <button type="button" disabled={isBusy} onClick={() => archives.save(true)}>
          Save an archive first
        </button>
      </p>
      <p>
        <label>
          <input
            type="checkbox"
            checked={isSure}
            onChange={(event) => setSure(event.currentTarget.checked)}
          />
          Yes, all of it
        </label>
      </p>
      <p className="row">
        <button type="button" disabled={!isSure || isBusy} onClick={archives.deleteAll}>
          Delete everything
        </button>
        <button type="button" onClick={leave}>
          Keep it
        </button>
      </p>
    </section>
  );
}
