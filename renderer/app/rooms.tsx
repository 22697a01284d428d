interface RoomsProps {
  readonly current: "drills" | "practice" | "history";
  readonly onDrills: () => void;
  readonly onHistory: () => void;
}

/** The way from any room to any other. */
export function Rooms({ current, onDrills, onHistory }: RoomsProps) {
  return (
    <header>
      <nav className="rooms" aria-label="Rooms">
        <span className="product">Reedpath</span>
        <button type="button" aria-current={current === "drills" ? "page" : undefined} onClick={onDrills}>
          Drills
        </button>
        <button type="button" aria-current={current === "history" ? "page" : undefined} onClick={onHistory}>
          History
        </button>
      </nav>
    </header>
  );
}
