import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { registerOf } from "../../core/instrument/harp.ts";
import { type Layout, sameReeds } from "../../core/instrument/layout.ts";
import { positionOfHome } from "../../core/instrument/positions.ts";
import { isNamed } from "../../core/pitch/modes.ts";
import type { DesignWish } from "../../core/workshop/design/wish.ts";
import type { DrillChoice } from "../drills/drill-choice.ts";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import { withFreeName } from "../instrument/layout-draft.ts";
import type { Settings } from "../store/settings-store.ts";
import { choiceOfHarp } from "../ui/chosen-harp.ts";
import { DesignPart } from "../workshop/design/design-part.tsx";
import type { DesignView } from "../workshop/design/design-view.ts";
import { designOfSettings, designToKeep } from "../workshop/design/kept-design.ts";
import type { DesignTuneList } from "../workshop/design/tune-choices.tsx";
import { retuneViewOfSettings, retuneViewToKeep } from "../workshop/retune/retune-view.ts";
import type { Services } from "./services.ts";
import type { useHarps } from "./use-harps.ts";
import type { useTunes } from "./use-tunes.ts";

export interface DesignRoomProps {
  readonly services: Pick<Services, "newId" | "designWork">;
  readonly harps: ReturnType<typeof useHarps>;
  readonly tunes: ReturnType<typeof useTunes>;
  readonly choice: DrillChoice;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
  readonly onPractise: (exercise: Exercise) => void;
  readonly onTunes: () => void;
  readonly onRetune: () => void;
}

/** Designing a layout among the player's layouts, harps and tunes; what is found can be used everywhere at once. */
export function DesignRoom(props: DesignRoomProps) {
  const { services, harps, tunes, choice, settings, onSettings } = props;
  const [view, setView] = useState(() => designOfSettings(settings.lastDesign));
  const look = (next: DesignView) => {
    setView(next);
    onSettings({ lastDesign: designToKeep(next) });
  };
  const own = useMemo(() => harps.layouts.map(({ layout }) => layout), [harps.layouts]);
  const owned = harps.list.kind === "harps" ? harps.list.harps.map(({ harp }) => harp) : [];
  const list = tunes.list.kind === "tunes" ? tunes.list.tunes : null;
  const onTexts = useTextsOf(tunes);
  const kept = (layout: Layout) =>
    own.find((one) => one.name === layout.name && sameReeds(one, layout)) ?? null;
  /** The layout among the player's own, put there if it is not yet. */
  const keep = (layout: Layout): Layout => {
    const known = kept(layout);
    if (known !== null) return known;
    const free = withFreeName(layout, own);
    harps.keepLayout({ id: services.newId(), layout: free });
    return free;
  };
  const practiceOf = (layout: Layout, wish: DesignWish) => {
    const next = { ...choice, ...drillOf(layout, wish) };
    const made = exerciseOfChoice(next, settings.a4Hz, { harps: [], layouts: [layout] });
    return { next, made };
  };
  return (
    <DesignPart
      view={view}
      onView={look}
      own={own}
      owned={owned}
      a4Hz={settings.a4Hz}
      work={services.designWork}
      tunes={useMemo(() => (list === null ? null : tuneListOf(list)), [list])}
      onTexts={onTexts}
      actions={{
        isKept: (layout) => layout.name === view.harp.layout.name || kept(layout) !== null,
        onKeep: keep,
        onHear: (layout, wish) => {
          const { made } = practiceOf(layout, wish);
          if (made.kind === "exercise") void props.onHear(made.exercise, () => {}).catch(() => {});
        },
        onPractise: (layout, wish) => {
          const { next, made } = practiceOf(keep(layout), wish);
          onSettings({ lastDrill: { ...next } });
          if (made.kind === "exercise") props.onPractise(made.exercise);
        },
        onFit: (layout, wish) => {
          const { next } = practiceOf(keep(layout), wish);
          onSettings({ lastDrill: { ...next } });
          props.onTunes();
        },
        onRetune: (layout, wish) => {
          const wanted = choiceOfHarp({ ...wish.harp, layout: keep(layout) });
          const plan = { ...retuneViewOfSettings(settings.lastRetuning), ownId: null, wanted };
          onSettings({ lastRetuning: retuneViewToKeep({ ...plan, other: choiceOfHarp(wish.harp) }) });
          props.onRetune();
        },
      }}
    />
  );
}

/** Texts of all tunes on the list, once it has been read; none where it cannot be. */
function useTextsOf(tunes: ReturnType<typeof useTunes>): () => Promise<readonly string[]> {
  const now = useRef(tunes);
  now.current = tunes;
  const waiting = useRef<(() => void)[]>([]);
  useEffect(() => {
    if (tunes.list.kind !== "loading") for (const goOn of waiting.current.splice(0)) goOn();
  }, [tunes.list]);
  return useCallback(async () => {
    if (now.current.list.kind === "loading")
      await new Promise<void>((resolve) => {
        waiting.current.push(resolve);
      });
    const { list, texts } = now.current;
    return list.kind === "tunes" ? texts(list.tunes.map(({ id }) => id)) : [];
  }, []);
}

/** The first scale asked for as a drill on a layout; first position where tunes alone decided. */
function drillOf(layout: Layout, { harp, scales: [first] }: DesignWish): Partial<DrillChoice> {
  const { mode = "major" } = first ?? {};
  return {
    ownHarp: "",
    layout: layout.id,
    key: harp.key as DrillChoice["key"],
    register: registerOf(harp),
    kind: "scale",
    position: first === undefined ? 1 : positionOfHome({ ...harp, layout }, first.home),
    mode: isNamed(mode) ? mode : "major",
    octaves: "plain range",
    start: "lowest",
    fromDegree: "1",
  };
}

function tuneListOf(list: readonly { readonly dance: string }[]): DesignTuneList {
  const counts = new Map<string, number>();
  for (const { dance } of list) counts.set(dance, (counts.get(dance) ?? 0) + 1);
  return { count: list.length, dances: [...counts].sort(([, one], [, other]) => other - one) };
}
