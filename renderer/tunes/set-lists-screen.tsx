import { type KeyboardEvent, useRef } from "react";
import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import { useVerbs } from "../ui/use-verbs.tsx";
import "./set-lists.css";

export type SetLists =
  | { readonly kind: "loading" }
  | { readonly kind: "lists"; readonly lists: readonly SetList[] }
  | { readonly kind: "trouble"; readonly words: string };

interface SetListsScreenProps {
  readonly lists: SetLists;
  readonly onOpen: (id: string) => void;
  readonly onNew: () => void;
  readonly onDemo: () => void;
  readonly onDelete: (list: SetList) => void;
  readonly onLeave: () => void;
}

/** Which dance? */
export function SetListsScreen({ lists, onOpen, onNew, onDemo, onDelete, onLeave }: SetListsScreenProps) {
  useVerbs({ leave: onLeave });
  return (
    <main className="set-lists">
      <h1>Set lists</h1>
      {lists.kind === "loading" && <p role="status">Reading the set lists …</p>}
      {lists.kind === "trouble" && (
        <p className="notice" role="alert">
          {lists.words}
        </p>
      )}
      {lists.kind === "lists" && <Lists lists={lists.lists} onOpen={onOpen} onDelete={onDelete} />}
      <p className="row">
        <button type="button" className="main" onClick={onNew}>
          New set list
        </button>
        {lists.kind === "lists" && !lists.lists.some(({ demo }) => demo === true) && (
          <button type="button" onClick={onDemo}>
            Show a made-up one
          </button>
        )}
        <button type="button" onClick={onLeave}>
          All tunes
        </button>
      </p>
    </main>
  );
}

function Lists({
  lists,
  onOpen,
  onDelete,
}: { readonly lists: readonly SetList[] } & Pick<SetListsScreenProps, "onOpen" | "onDelete">) {
  const box = useRef<HTMLUListElement>(null);
  const walk = (event: KeyboardEvent) => {
    const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
    const buttons = [...(box.current?.querySelectorAll<HTMLElement>("button.open") ?? [])];
    const next = buttons[buttons.findIndex((button) => button.isSameNode(event.target as Node)) + step];
    if (step === 0 || next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  if (lists.length === 0) {
    return (
      <p>
        No set list yet. One holds what is played at a dance: sets of tunes, how often and how fast each is
        played, how long it all lasts, and where another harp has to be taken.
      </p>
    );
  }
  return (
    <ul className="lists" ref={box} onKeyDown={walk}>
      {lists.map((list) => (
        <li key={list.id}>
          <button type="button" className="open" onClick={() => onOpen(list.id)}>
            {list.name === "" ? "A dance without a name" : list.name}
          </button>{" "}
          <span className="soft">
            {inWords(list)}
            {list.demo === true && ", made up"}
          </span>{" "}
          <button type="button" onClick={() => onDelete(list)}>
            Delete<span className="only-read-aloud"> {list.name}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

function inWords({ sets }: SetList): string {
  const tunes = sets.reduce((count, set) => count + set.tunes.length, 0);
  return `${sets.length} ${sets.length === 1 ? "set" : "sets"}, ${tunes} ${tunes === 1 ? "tune" : "tunes"}`;
}
