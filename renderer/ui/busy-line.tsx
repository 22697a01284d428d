interface BusyLineProps {
  /** What is going on: "Checking the history". */
  readonly words: string;
  /** Share done, 0..1. */
  readonly share: number;
  readonly onStop: () => void;
}

/** Something that takes its time: how far it is, and a way to stop it. */
export function BusyLine({ words, share, onStop }: BusyLineProps) {
  return (
    <p className="row busy-line">
      <span role="status">{words} …</span>
      <progress aria-label={words} value={share} max={1} />
      <button type="button" onClick={onStop}>
        Stop
      </button>
    </p>
  );
}
