import { useMemo, useState } from "react";
import type { Services } from "./services.ts";

/** The services, watched for the first sound that is asked of them, and whether there has been one. */
export function useFirstSound(services: Services): readonly [Services, boolean] {
  const [hasSounded, setHasSounded] = useState(false);
  const watched = useMemo((): Services => {
    const heard = () => setHasSounded(true);
    const { reference, reeds, playback } = services;
    return {
      ...services,
      reference: {
        play: (...asked) => {
          heard();
          return reference.play(...asked);
        },
      },
      reeds: {
        soundNotes: (...asked) => {
          heard();
          return reeds.soundNotes(...asked);
        },
      },
      playback: {
        play: (...asked) => {
          heard();
          playback.play(...asked);
        },
        stop: () => playback.stop(),
      },
    };
  }, [services]);
  return [watched, hasSounded];
}
