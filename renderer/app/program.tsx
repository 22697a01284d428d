import { useState } from "react";
import { FIRST_SETTINGS, type Settings } from "../store/settings-store.ts";
import { App } from "./app.tsx";
import type { Services } from "./services.ts";

export interface FirstRead {
  readonly settings: Settings;
  /** One sentence if the settings could not be read, or null. */
  readonly trouble: string | null;
}

interface ProgramProps {
  readonly services: Services;
  readonly first: FirstRead;
}

/** The whole window; begun anew where everything that is kept has become another. */
export function Program({ services, first }: ProgramProps) {
  const [round, setRound] = useState({ ...first, number: 0, told: null as string | null });
  const beginAgain = async (told: string) => {
    const settings = await services.settings.load().catch(() => FIRST_SETTINGS);
    setRound(({ number }) => ({ settings, trouble: null, told, number: number + 1 }));
  };
  return (
    <App
      key={round.number}
      services={services}
      firstSettings={round.settings}
      trouble={round.trouble}
      told={round.told}
      onBeginAgain={beginAgain}
    />
  );
}
