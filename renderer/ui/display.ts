import { createContext, useContext } from "react";

/** How things are drawn for this player. */
export interface Display {
  /** Hole 1 on the right, as for those who hold the harp turned round. */
  readonly mirrored: boolean;
  /** How many times its usual size text is: 1 to 2. What the style sheets size grows by itself. */
  readonly textScale: number;
}

export const DisplayContext = createContext<Display>({ mirrored: false, textScale: 1 });
export const useDisplay = (): Display => useContext(DisplayContext);
