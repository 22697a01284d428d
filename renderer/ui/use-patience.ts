import { useEffect, useState } from "react";

/** How long a player waits without being told, in milliseconds. */
const UNTOLD_MS = 400;

/** Whether something goes on so long that it has to be told: what comes in a moment does not flicker. */
export function usePatience(isGoingOn: boolean): boolean {
  const [isLong, setLong] = useState(false);
  useEffect(() => {
    if (!isGoingOn) return setLong(false);
    const timer = setTimeout(() => setLong(true), UNTOLD_MS);
    return () => clearTimeout(timer);
  }, [isGoingOn]);
  return isGoingOn && isLong;
}
