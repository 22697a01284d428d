import { useRef } from "react";

interface RecordingButtonProps {
  readonly disabled: boolean;
  readonly onFile: (file: File) => void;
}

/** Opens a recording to be marked instead of the microphone; one can also be dropped anywhere on the sheet. */
export function RecordingButton({ disabled, onFile }: RecordingButtonProps) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" disabled={disabled} onClick={() => input.current?.click()}>
        Mark a recording
      </button>
      <input
        ref={input}
        type="file"
        hidden
        accept="audio/*,.wav"
        aria-label="Recording to mark"
        onChange={(event) => {
          const file = event.target.files?.[0];
          // Emptied at once, so that choosing the same file again is noticed.
          event.target.value = "";
          if (file !== undefined) onFile(file);
        }}
      />
    </>
  );
}
