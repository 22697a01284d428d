import { useCallback, useMemo, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlannedSet } from "../../core/progress/repertoire/repertoire-dance.ts";
import type { TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { SetListStore } from "../store/set-list-store.ts";
import type { Settings } from "../store/settings-store.ts";
import type { TuneStore, TuneStudy } from "../store/tune-store.ts";
import { kept } from "../tunes/import-tunes.ts";
import { TuneEditor } from "../tunes/tune-editor.tsx";
import type { ReadText } from "../tunes/tune-messages.ts";
import { TuneScreen } from "../tunes/tune-screen.tsx";
import type { OpenTune, TuneRules } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import { TunesScreen } from "../tunes/tunes-screen.tsx";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { type SetListRoom, SetListRooms } from "./set-list-rooms.tsx";
import { sentence } from "./use-history.ts";
import type { useRepertoire } from "./use-repertoire.ts";
import type { useTunes } from "./use-tunes.ts";

/** Which of the rooms for tunes is open. */
export type TuneRoom =
  | { readonly kind: "tunes" }
  | { readonly kind: "tune"; readonly open: OpenTune; readonly tries: readonly TuneTry[] }
  | SetListRoom
  /** `replaces` is the tune whose text is being changed; null for a new one. */
  | { readonly kind: "write a tune"; readonly text: string; readonly replaces: string | null };

interface TuneRoomsProps {
  readonly room: TuneRoom;
  readonly tunes: ReturnType<typeof useTunes>;
  readonly work: TuneWork;
  readonly store: TuneStore;
  /** Those a tune may be laid on where none is chosen for it. */
  readonly harps: readonly Harp[];
  readonly usualLayout: Layout;
  readonly ownedHarps: readonly Harp[];
  readonly abilities: Abilities;
  readonly rules: TuneRules;
  readonly onRules: (part: Partial<Pick<Settings, "ladder" | "pathWeights">>) => void;
  readonly query: string;
  readonly onQuery: (query: string) => void;
  readonly onEnter: (room: TuneRoom) => void;
  readonly onOpen: (id: string) => void;
  readonly onPractise: (exercise: Exercise) => void;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
  readonly repertoire: ReturnType<typeof useRepertoire>;
  readonly setLists: SetListStore;
  readonly newId: () => string;
  readonly onPractiseSet: (set: PlannedSet, listId: string) => void;
}

const EMPTY_TUNE = "X:1\nT:\nR:\nM:6/8\nL:1/8\nK:D\n";

/** The list of tunes, one tune, and the writing of one. */
export function TuneRooms(props: TuneRoomsProps) {
  const { room, tunes, work, query, onQuery, onEnter, onOpen, repertoire, harps, abilities, rules } = props;
  const { open } = tunes;
  const onText = useCallback(async (id: string) => (await open(id))?.abc ?? null, [open]);
  const world = useMemo(() => ({ harps, abilities, rules }), [harps, abilities, rules]);
  switch (room.kind) {
    case "set lists":
    case "set list":
      return (
        <SetListRooms
          room={room}
          store={props.setLists}
          newId={props.newId}
          owned={props.ownedHarps.length}
          tunes={tunes.list}
          work={work}
          world={world}
          studies={repertoire.repertoire.studies}
          onText={onText}
          onEnter={onEnter}
          onOpenTune={onOpen}
          onPractise={props.onPractiseSet}
        />
      );
    case "tunes":
      return (
        <TunesScreen
          list={tunes.list}
          bringing={tunes.bringing}
          asking={tunes.asking}
          onKeepAsked={tunes.keepAsked}
          onLeaveAsked={tunes.leaveAsked}
          query={query}
          isOwn={tunes.isOwn}
          onQuery={onQuery}
          onOpen={onOpen}
          onDelete={tunes.remove}
          onBring={tunes.bring}
          onStopBringing={tunes.stopBringing}
          onTexts={tunes.texts}
          layout={props.usualLayout}
          owned={props.ownedHarps}
          abilities={abilities}
          work={work}
          repertoire={repertoire.repertoire}
          standing={repertoire.standing}
          shelf={repertoire.shelf}
          world={world}
          onText={onText}
          {...repertoire.view}
          onView={repertoire.onView}
          onSetLists={() => onEnter({ kind: "set lists" })}
          onWrite={() => onEnter({ kind: "write a tune", text: EMPTY_TUNE, replaces: null })}
        />
      );
    case "write a tune":
      return (
        <TuneEditor
          text={room.text}
          work={work}
          onKeep={(read) => void keepWritten(props, read, room.replaces)}
          onLeave={() => onEnter({ kind: "tunes" })}
        />
      );
    case "tune":
      return <OneTune key={room.open.id} {...props} open={room.open} tries={room.tries} />;
  }
}

/** The first of the tunes written takes the place of the one that was changed. */
async function keepWritten(
  { tunes, onEnter }: TuneRoomsProps,
  read: ReadText["tunes"],
  replaces: string | null,
): Promise<void> {
  for (const [index, { tune, abc }] of read.entries()) {
    const written = kept(tune, abc, "written here");
    if (index === 0 && replaces !== null) await tunes.replace(replaces, written);
    else await tunes.keep(written);
  }
  onEnter({ kind: "tunes" });
}

function OneTune(props: TuneRoomsProps & { readonly open: OpenTune; readonly tries: readonly TuneTry[] }) {
  const {
    open: first,
    tries,
    tunes,
    work,
    store,
    harps,
    usualLayout,
    ownedHarps,
    abilities,
    onEnter,
  } = props;
  const [open, setOpen] = useState(first);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [lost, setLost] = useState<Lost | null>(null);
  const study = useCallback(
    (next: TuneStudy) => {
      setLost(lostIn(open.study, next));
      setOpen((before) => ({ ...before, study: next }));
      if (next.voice !== open.study.voice)
        work.read(open.abc, undefined, next.voice).then(
          (read) => {
            const tune = read.tunes[0]?.tune;
            if (tune !== undefined) setOpen((before) => ({ ...before, tune }));
          },
          (error: unknown) => setTrouble(sentence(error)),
        );
      store.keepStudy(next).then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      );
    },
    [store, work, open],
  );
  const isOwn = useMemo(
    () =>
      tunes.list.kind === "tunes" && tunes.list.tunes.some((one) => one.id === open.id && tunes.isOwn(one)),
    [tunes, open.id],
  );
  return (
    <>
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      {lost !== null && <UndoNotice words={lost.words} onUndo={() => study(lost.before)} />}
      <TuneScreen
        open={open}
        isOwn={isOwn}
        harps={harps}
        usualLayout={usualLayout}
        ownedHarps={ownedHarps}
        abilities={abilities}
        rules={props.rules}
        onRules={props.onRules}
        tries={tries}
        nowEpochMs={props.repertoire.repertoire.nowEpochMs}
        work={work}
        onStudy={study}
        onPractise={props.onPractise}
        onHear={props.onHear}
        onEdit={() => onEnter({ kind: "write a tune", text: open.abc, replaces: isOwn ? open.id : null })}
        onLeave={() => onEnter({ kind: "tunes" })}
      />
    </>
  );
}

/** What a change of a tune's study let go, and the study with it. */
interface Lost {
  readonly words: string;
  readonly before: TuneStudy;
}

/** Another harp, voice or length of phrase lets go what was fixed for the one before. */
function lostIn(before: TuneStudy, next: TuneStudy): Lost | null {
  const isGone = (of: "pins" | "phrases") => (before[of]?.length ?? 0) > 0 && (next[of]?.length ?? 0) === 0;
  const what = [
    ...(isGone("pins") ? ["fixed notes"] : []),
    ...(isGone("phrases") ? ["phrases cut by hand"] : []),
  ];
  return what.length === 0 ? null : { words: `Let go: ${what.join(" and ")}`, before };
}

/** A tune with what was set for it and what was tried; null where it is no longer there. @throws StoreTrouble */
export async function openTune(
  id: string,
  tunes: ReturnType<typeof useTunes>,
  store: TuneStore,
  history: HistoryStore,
  work: TuneWork,
): Promise<Extract<TuneRoom, { kind: "tune" }> | null> {
  const found = await tunes.open(id);
  if (found === null) return null;
  const [study, tries] = await Promise.all([store.study(id), history.triesAt(id)]);
  const [read] = (await work.read(found.abc, undefined, study?.voice)).tunes;
  if (read === undefined) return null;
  const { tune, voices } = read;
  const open: OpenTune = { id, tune, abc: found.abc, voices, study: study ?? { id } };
  return { kind: "tune", open, tries };
}
