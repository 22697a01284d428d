interface StarButtonProps {
  readonly isStarred: boolean;
  /** Of the attempt, as the player reads it. */
  readonly title: string;
  readonly onStar: (on: boolean) => void;
}

/** Five points from the top, in a square of 20. */
const POINTS = Array.from({ length: 10 }, (_, n) => {
  const [radius, angle] = [n % 2 === 0 ? 9 : 3.6, (Math.PI * n) / 5];
  return `${(10 + radius * Math.sin(angle)).toFixed(2)},${(10 - radius * Math.cos(angle)).toFixed(2)}`;
}).join(" ");

/** A mark of the player's own: its take is never dropped for space. */
export function StarButton({ isStarred, title, onStar }: StarButtonProps) {
  return (
    <button
      type="button"
      className="star"
      data-control="star"
      aria-pressed={isStarred}
      onClick={() => onStar(!isStarred)}
    >
      <svg viewBox="0 0 20 20" aria-hidden="true">
        <polygon points={POINTS} />
      </svg>
      <span className="only-read-aloud">Star: {title}</span>
    </button>
  );
}
