import type { Backup } from "../../electron/bridge.ts";
import { bytesInWords } from "../ui/bytes.ts";

export type BackupsRead =
  | { readonly kind: "reading" }
  | { readonly kind: "read"; readonly backups: readonly Backup[] }
  | { readonly kind: "trouble"; readonly words: string };

interface BackupsPartProps {
  readonly backups: BackupsRead;
  readonly disabled: boolean;
  readonly onLook: (backup: Backup) => void;
}

/** What the shell keeps on the disk by itself, the newest first. */
export function BackupsPart({ backups, disabled, onLook }: BackupsPartProps) {
  return (
    <section aria-label="Backups">
      <h3>Backups</h3>
      <p className="soft">
        Two minutes after the last attempt of a session everything but the takes is saved on this disk; the
        newest ten stay.
      </p>
      <BackupList backups={backups} disabled={disabled} onLook={onLook} />
    </section>
  );
}

function BackupList({ backups, disabled, onLook }: BackupsPartProps) {
  if (backups.kind === "reading") return <p role="status">Looking for backups …</p>;
  if (backups.kind === "trouble")
    return (
      <p className="notice" role="alert">
        {backups.words}
      </p>
    );
  if (backups.backups.length === 0) return <p>None yet.</p>;
  return (
    <table className="backups">
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">Attempts</th>
          <th scope="col">Size</th>
          <th scope="col">
            <span className="only-read-aloud">Bring in</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {backups.backups.map((backup) => (
          <tr key={backup.name}>
            <td>{WHEN.format(new Date(backup.atEpochMs))}</td>
            <td>{backup.attempts}</td>
            <td>{bytesInWords(backup.sizeBytes)}</td>
            <td>
              <button type="button" disabled={disabled} onClick={() => onLook(backup)}>
                Look through
                <span className="only-read-aloud">
                  {" "}
                  the backup of {WHEN.format(new Date(backup.atEpochMs))}
                </span>
              </button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });
