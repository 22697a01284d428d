interface RoomsProps {
  readonly current: string;
  readonly onDrills: () => void;
  readonly onTunes: () => void;
  readonly onInstrument: () => void;
  readonly onHarps: () => void;
  readonly onHistory: () => void;
}

/** The way from any room to any other. */
export function Rooms({ current, onDrills, onTunes, onInstrument, onHarps, onHistory }: RoomsProps) {
  return (
    <header>
      <nav className="rooms" aria-label="Rooms">
        <span className="product">Reedpath</span>
        <button type="button" aria-current={current === "drills" ? "page" : undefined} onClick={onDrills}>
          Drills
        </button>
        <button
          type="button"
          aria-current={["tunes", "tune", "write a tune"].includes(current) ? "page" : undefined}
          onClick={onTunes}
        >
          Tunes
        </button>
        <button
          type="button"
          aria-current={current === "instrument" ? "page" : undefined}
          onClick={onInstrument}
        >
          Instrument
        </button>
        <button type="button" aria-current={current === "harps" ? "page" : undefined} onClick={onHarps}>
          My harps
        </button>
        <button type="button" aria-current={current === "history" ? "page" : undefined} onClick={onHistory}>
          History
        </button>
      </nav>
    </header>
  );
}
