import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import { findTunes } from "../../core/tune/tune-list.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { useWriting } from "../ui/writing.ts";

interface TuneFinderProps {
  readonly tunes: readonly ListedTune[];
  readonly onFound: (tune: ListedTune) => void;
  readonly onLeave: () => void;
}

/** So many are shown at once. */
const MOST = 8;

/** A tune found by typing: Enter takes the first, arrows go to the others, Escape leaves. */
export function TuneFinder({ tunes, onFound, onLeave }: TuneFinderProps) {
  const { chord } = useWriting();
  const id = useId();
  const [query, setQuery] = useState("");
  const field = useRef<HTMLInputElement>(null);
  const list = useRef<HTMLUListElement>(null);
  useEffect(() => field.current?.focus(), []);
  const found = useMemo(() => findTunes(tunes, query), [tunes, query]);
  const take = (tune: ListedTune) => {
    onFound(tune);
    setQuery("");
    field.current?.focus();
  };
  const walk = (event: KeyboardEvent) => {
    if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      onLeave();
      return;
    }
    const buttons = [...(list.current?.querySelectorAll("button") ?? [])];
    const at = buttons.findIndex((button) => button.isSameNode(document.activeElement));
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    if (step === 0) return;
    event.preventDefault();
    if (at + step < 0) field.current?.focus();
    else buttons[at + step]?.focus();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: keys of the field and the buttons within
    <div className="finder" onKeyDown={walk}>
      <div className="choice">
        <label htmlFor={id}>
          Tune to add <span className="soft">(title, key, metre, dance, or first notes)</span>
        </label>
        <input
          id={id}
          ref={field}
          type="search"
          value={query}
          onChange={(event) => setQuery(event.target.value)}
          onKeyDown={(event) => {
            const [first] = found;
            if (event.key !== "Enter" || query === "" || first === undefined) return;
            event.preventDefault();
            take(first);
          }}
        />
      </div>
      <ul ref={list} aria-label="Tunes found">
        {found.slice(0, MOST).map((tune) => (
          <li key={tune.id}>
            <button type="button" className="open" onClick={() => take(tune)}>
              {tune.title}
            </button>{" "}
            <span className="soft">
              {tune.dance} · {chord(tune.key)}
            </span>
          </li>
        ))}
      </ul>
      <p className="soft" role="status">
        {found.length > MOST ? `${found.length - MOST} more: type on to find them.` : ""}
        {found.length === 0 ? "No tune is like that." : ""}
      </p>
      <button type="button" onClick={onLeave}>
        Done
      </button>
    </div>
  );
}
