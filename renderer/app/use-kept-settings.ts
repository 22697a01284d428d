import { useCallback, useEffect, useRef, useState } from "react";
import { setWhenAway } from "../audio/attention.ts";
import { setBeat } from "../audio/beat-sound.ts";
import { setLoudness } from "../audio/sound-context.ts";
import type { Settings, SettingsStore } from "../store/settings-store.ts";

/** Settings that apply at once and are kept as they change. */
export function useKeptSettings(store: SettingsStore, first: Settings) {
  const [settings, setSettings] = useState(first);
  const [trouble, setTrouble] = useState<string | null>(null);
  const latest = useRef(first);
  const change = useCallback(
    (part: Partial<Settings>) => {
      latest.current = { ...latest.current, ...part };
      setSettings(latest.current);
      store.save(latest.current).then(
        () => setTrouble(null),
        (error: unknown) =>
          setTrouble(`Settings could not be kept: ${error instanceof Error ? error.message : error}.`),
      );
    },
    [store],
  );
  useEffect(() => setLoudness(settings.loudnessDb), [settings.loudnessDb]);
  const { beatSound, barBeat } = settings;
  useEffect(() => setBeat({ sound: beatSound, stressed: barBeat === "stressed" }), [beatSound, barBeat]);
  useEffect(() => setWhenAway(settings.microphoneAway), [settings.microphoneAway]);
  return { settings, change, trouble };
}
