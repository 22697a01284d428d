import { useState } from "react";

interface SureButtonProps {
  /** "Delete the take". */
  readonly words: string;
  /** What goes for good, as a sentence. */
  readonly warning: string;
  readonly onSure: () => void;
}

/** Does in two steps what cannot be taken back. */
export function SureButton({ words, warning, onSure }: SureButtonProps) {
  const [asking, setAsking] = useState(false);
  if (!asking)
    return (
      <button type="button" onClick={() => setAsking(true)}>
        {words} …
      </button>
    );
  return (
    <span className="row" role="status">
      <span>{warning}</span>
      <button
        type="button"
        onClick={() => {
          setAsking(false);
          onSure();
        }}
      >
        {words}
      </button>
      <button type="button" onClick={() => setAsking(false)}>
        Keep it
      </button>
    </span>
  );
}
