import { useWriting } from "./writing.ts";

interface UndoNoticeProps {
  /** What was done, without full stop: "Deleted: G harp". */
  readonly words: string;
  readonly onUndo: () => void;
}

/** Says what was done and offers the way back. */
export function UndoNotice({ words, onUndo }: UndoNoticeProps) {
  const { say } = useWriting();
  return (
    <p className="notice" role="status">
      {say(words)}.{" "}
      <button type="button" onClick={onUndo}>
        Undo
      </button>
    </p>
  );
}
