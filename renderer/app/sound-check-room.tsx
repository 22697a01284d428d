import { useEffect, useRef, useState } from "react";
import { rememberDelay } from "../../core/delay/measured-delays.ts";
import { outputLatencySeconds } from "../audio/sound-context.ts";
import type { SoundDevice } from "../audio/sound-device.ts";
import { SoundCheckScreen } from "../sound-check/sound-check-screen.tsx";
import { SoundCheckSession } from "../sound-check/sound-check-session.ts";
import type { Settings } from "../store/settings-store.ts";
import type { Services } from "./services.ts";

interface SoundCheckRoomProps {
  readonly services: Services;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
}

/** The sound check; leaving it closes the microphone. What was chosen and measured is kept. */
export function SoundCheckRoom({ services, settings, onSettings }: SoundCheckRoomProps) {
  const kept = useRef({ settings, onSettings });
  useEffect(() => {
    kept.current = { settings, onSettings };
  });
  const [session, setSession] = useState<SoundCheckSession | null>(null);
  useEffect(() => {
    const made = new SoundCheckSession(services, (delay) => {
      const { measuredDelays } = kept.current.settings;
      // A number set by hand would go before what was just measured.
      kept.current.onSettings({ measuredDelays: rememberDelay(measuredDelays, delay), latencyMs: 0 });
    });
    setSession(made);
    return () => made.dispose();
  }, [services]);
  if (session === null) return null;
  const chooseInput = async (input: SoundDevice | null) => {
    onSettings({ input });
    await services.devices.choose({ input, output: settings.output });
    if (session.getState().microphone.kind === "open") await session.open();
  };
  return (
    <SoundCheckScreen
      session={session}
      devices={services.devices}
      measuredDelays={settings.measuredDelays}
      byHandMs={settings.latencyMs}
      outputLatencySeconds={outputLatencySeconds}
      onInput={(input) => void chooseInput(input)}
      onOutput={(output) => onSettings({ output })}
      onByHand={(latencyMs) => onSettings({ latencyMs })}
    />
  );
}
