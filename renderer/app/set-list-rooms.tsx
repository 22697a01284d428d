import type { PlannedSet } from "../../core/progress/repertoire/repertoire-dance.ts";
import type { SetListStore } from "../store/set-list-store.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { demoSetList } from "../tunes/demo-set-list.ts";
import { SetListScreen } from "../tunes/set-list-screen.tsx";
import { SetListsScreen } from "../tunes/set-lists-screen.tsx";
import type { TuneList } from "../tunes/tunes-screen.tsx";
import type { LaidSource } from "../tunes/use-laid.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { useSetLists } from "./use-set-lists.ts";

/** Which of the rooms for set lists is open. */
export type SetListRoom = { readonly kind: "set lists" } | { readonly kind: "set list"; readonly id: string };

interface SetListRoomsProps extends LaidSource {
  readonly room: SetListRoom;
  readonly store: SetListStore;
  readonly newId: () => string;
  /** How many harps the player has. */
  readonly owned: number;
  readonly tunes: TuneList;
  readonly onEnter: (room: SetListRoom | { readonly kind: "tunes" }) => void;
  readonly onOpenTune: (id: string) => void;
  readonly onPractise: (set: PlannedSet, listId: string) => void;
}

/** All set lists, and one of them. */
export function SetListRooms(props: SetListRoomsProps) {
  const { room, store, newId, tunes, onEnter } = props;
  const its = useSetLists(store);
  const all: readonly ListedTune[] = tunes.kind === "tunes" ? tunes.tunes : [];
  const open =
    room.kind === "set list" && its.lists.kind === "lists"
      ? its.lists.lists.find(({ id }) => id === room.id)
      : undefined;
  const begin = (demo: boolean) => {
    const list = demo ? demoSetList(all, newId) : { id: newId(), name: "", sets: [] };
    its.keep(list);
    onEnter({ kind: "set list", id: list.id });
  };
  return (
    <>
      {its.trouble !== null && (
        <p className="notice" role="alert">
          {its.trouble}
        </p>
      )}
      {its.taken !== null && <UndoNotice words={its.taken} onUndo={its.undo} />}
      {open === undefined ? (
        <SetListsScreen
          lists={its.lists}
          onOpen={(id) => onEnter({ kind: "set list", id })}
          onNew={() => begin(false)}
          onDemo={() => begin(true)}
          onDelete={its.remove}
          onLeave={() => onEnter({ kind: "tunes" })}
        />
      ) : (
        <SetListScreen
          {...props}
          key={open.id}
          list={open}
          tunes={all}
          onChange={(list) => its.keep(list)}
          onTaken={its.keepWithout}
          onPractise={(set) => props.onPractise(set, open.id)}
          onLeave={() => onEnter({ kind: "set lists" })}
        />
      )}
    </>
  );
}
