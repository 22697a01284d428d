import { WAY_OUT } from "../store/store-trouble.ts";
import type { UnkeptState } from "./unkept.ts";

interface UnkeptNoticeProps {
  /** Why nothing could be read when the window was opened, as a sentence; null where it could. */
  readonly atStart: string | null;
  readonly state: UnkeptState;
  readonly onTryAgain: () => void;
  readonly onSaveToFile: () => void;
}

/** Says in one sentence what is not kept, why, and what to do. */
export function UnkeptNotice({ atStart, state, onTryAgain, onSaveToFile }: UnkeptNoticeProps) {
  if (atStart === null && state.attempts === 0) return null;
  const { attempts, withoutTake, savedAs, fileTrouble, isTrying } = state;
  return (
    <aside className="notice" aria-label="Not kept">
      <p role="alert">{attempts === 0 ? atStart : unkeptSentence(state)}</p>
      {withoutTake > 0 && <p>{withoutTake} of them without the take, for want of memory.</p>}
      {savedAs !== null && (
        <p role="status">
          Saved as {savedAs}. Bring that file in under Settings, Archive, once the history can be kept again.
        </p>
      )}
      {fileTrouble !== null && <p role="status">No file was saved: {fileTrouble}.</p>}
      <p className="row">
        <button type="button" disabled={isTrying} onClick={onTryAgain}>
          Try again
        </button>
        {attempts > 0 && (
          <button type="button" disabled={isTrying} onClick={onSaveToFile}>
            {attempts === 1 ? "Save it to a file" : "Save them to a file"}
          </button>
        )}
        {isTrying && <span role="status">Trying …</span>}
      </p>
    </aside>
  );
}

function unkeptSentence({ attempts, trouble }: UnkeptState): string {
  const which = attempts === 1 ? "1 attempt is" : `${attempts} attempts are`;
  const it = attempts === 1 ? "it" : "them";
  return trouble === null
    ? `${which} only in this window so far.`
    : `${which} only in this window: ${trouble.message}; ${WAY_OUT[trouble.trouble]}, or save ${it} to a file.`;
}
