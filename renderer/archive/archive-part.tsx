import { useRef, useState } from "react";
import { ARCHIVE_ENDINGS } from "../../core/archive/file-kinds.ts";
import type { Backup } from "../../electron/bridge.ts";
import { BusyLine } from "../ui/busy-line.tsx";
import { countsInWords, summaryInWords } from "./archive-words.ts";
import { BackupsPart, type BackupsRead } from "./backups-part.tsx";
import type { Archives, LookedAt } from "./use-archives.ts";
import { WipePart } from "./wipe-part.tsx";
import "./archive.css";

interface ArchivePartProps {
  readonly archives: Archives;
  /** Null where there are none, in a plain browser. */
  readonly backups: BackupsRead | null;
  readonly openBackup: (backup: Backup) => Promise<Blob>;
}

/** Everything in one file, out and in; the backups on the disk; and the way to delete it all. */
export function ArchivePart({ archives, backups, openBackup }: ArchivePartProps) {
  const { state, save, look, stop } = archives;
  const [withTakes, setWithTakes] = useState(true);
  const input = useRef<HTMLInputElement>(null);
  const isBusy = state.kind === "busy";
  return (
    <section className="archive-part" aria-label="Archive">
      <h3>Archive</h3>
      <p className="soft">
        Everything in one file: attempts, takes, tunes, set lists, harps, layouts and settings. On another
        computer it is brought in beside what is there, each attempt once.
      </p>
      <p className="row">
        <button type="button" disabled={isBusy} onClick={() => save(withTakes)}>
          Save an archive
        </button>
        <label>
          <input
            type="checkbox"
            checked={withTakes}
            onChange={(event) => setWithTakes(event.currentTarget.checked)}
          />
          with the takes
        </label>
      </p>
      <p>
        <button type="button" disabled={isBusy} onClick={() => input.current?.click()}>
          Bring an archive in
        </button>
        <input
          ref={input}
          hidden
          type="file"
          accept={ARCHIVE_ENDINGS.map((ending) => `.${ending}`).join()}
          aria-label="Archive file"
          onChange={(event) => {
            const file = event.target.files?.[0];
            // The same file may be chosen again.
            event.target.value = "";
            if (file !== undefined) look(file.name, async () => file);
          }}
        />
      </p>
      {state.kind === "busy" && <BusyLine words={state.words} share={state.share} onStop={stop} />}
      {state.kind === "said" && <p role="status">{state.words}</p>}
      {state.kind === "trouble" && (
        <p className="notice" role="alert">
          {state.words}
        </p>
      )}
      {state.kind === "looked" && <LookedPart key={state.at.name} at={state.at} archives={archives} />}
      {backups !== null && (
        <BackupsPart
          backups={backups}
          disabled={isBusy}
          onLook={(backup) => look(`the backup of ${backup.attempts} attempts`, () => openBackup(backup))}
        />
      )}
      <WipePart archives={archives} hasBackups={backups !== null} />
    </section>
  );
}

/** What a file holds and what of it would be new, before anything is kept. */
function LookedPart({ at, archives }: { readonly at: LookedAt; readonly archives: Archives }) {
  const { look, name } = at;
  // Who begins here with an archive wants all of it.
  const [theirs, setTheirs] = useState(look.isUnused);
  const fresh = countsInWords(look.fresh);
  const hasChoices = look.summary.counts.settings + look.summary.counts.study > 0;
  return (
    <section className="looked-at" aria-label="What the file holds">
      <p role="status">
        {name} was looked through. {summaryInWords(look.summary)}{" "}
        {fresh === null
          ? "All of it is here already."
          : `New here: ${fresh}. What you deleted here and the file still has comes back with it.`}
      </p>
      {look.unreadable > 0 && <Unreadable count={look.unreadable} faults={look.faults} />}
      {hasChoices && (
        <p>
          <label>
            <input
              type="checkbox"
              checked={theirs}
              onChange={(event) => setTheirs(event.currentTarget.checked)}
            />
            Its settings and what is set for each tune take the place of yours
          </label>
        </p>
      )}
      <p className="row">
        <button
          type="button"
          className="main"
          disabled={fresh === null && !theirs}
          onClick={() => archives.bringIn(at, theirs)}
        >
          Bring in what is new
        </button>
        <button type="button" onClick={archives.leave}>
          Leave it
        </button>
      </p>
    </section>
  );
}

function Unreadable({ count, faults }: { readonly count: number; readonly faults: readonly string[] }) {
  return (
    <div className="notice">
      <p>
        {count === 1 ? "One record cannot be read and is" : `${count} records cannot be read and are`} left
        out:
      </p>
      <ul>
        {faults.map((fault) => (
          <li key={fault}>{fault}</li>
        ))}
        {count > faults.length && <li>and {count - faults.length} more</li>}
      </ul>
    </div>
  );
}
