import { type ReactNode, useLayoutEffect, useMemo } from "react";
import type { Settings } from "../store/settings-store.ts";
import { DisplayContext } from "../ui/display.ts";
import { readKeys } from "../ui/keys.ts";
import { Keys } from "../ui/use-verbs.tsx";
import { WritingContext, writingOf } from "../ui/writing.ts";

interface DisplayedProps {
  readonly settings: Settings;
  readonly children: ReactNode;
}

/** Everything within is shown, and listens to keys, as the player has set it. */
export function Displayed({ settings, children }: DisplayedProps) {
  const { look, textPercent, noteNames, tabForm, bendMarks, holeOne } = settings;
  const keys = useMemo(() => readKeys(settings.keys), [settings.keys]);
  const writing = useMemo(
    () => writingOf({ noteNames, tabForm, bendMarks }),
    [noteNames, tabForm, bendMarks],
  );
  const display = useMemo(
    () => ({ mirrored: holeOne === "right", textScale: textPercent / 100 }),
    [holeOne, textPercent],
  );
  useLayoutEffect(() => {
    document.documentElement.dataset.look = look;
    document.documentElement.dataset.text = String(textPercent);
  }, [look, textPercent]);
  return (
    <Keys value={keys}>
      <WritingContext value={writing}>
        <DisplayContext value={display}>{children}</DisplayContext>
      </WritingContext>
    </Keys>
  );
}
