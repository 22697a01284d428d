import type { Space, Verified } from "../store/history-store.ts";
import type { CopyStanding } from "../store/second-copy/second-copy.ts";

/** Room that takes need, as far as it is known. */
export type SpaceRead =
  | { readonly kind: "reading" }
  | { readonly kind: "read"; readonly space: Space }
  | { readonly kind: "trouble"; readonly words: string };

/**
 * How long what is kept stays: until the player deletes it, or until the browser needs the room, whether it was asked or not;
 * in a folder of the program's own; or nobody says.
 */
export type Persistence = "promised" | "not promised" | "refused" | "own folder" | "unknown";

/** How far the check of the history is. */
export type HistoryCheck =
  | { readonly kind: "none" }
  | { readonly kind: "checking"; readonly share: number }
  | { readonly kind: "stopped" }
  | { readonly kind: "done"; readonly verified: Verified }
  | { readonly kind: "trouble"; readonly words: string };

/** What is known of what is kept, and what can be done for it. */
export interface Keeping {
  readonly space: SpaceRead;
  readonly persistence: Persistence;
  /** How it stands with the second copy; null while that is looked for. */
  readonly copy: CopyStanding | "none" | null;
  readonly check: HistoryCheck;
  /** Whether attempts are counted by other rules now than when they were kept. */
  readonly needsRecount: boolean;
  readonly onAskToKeep: () => void;
  /** Drops what goes beyond the room for takes. */
  readonly onFitTakes: () => void;
  /** Deletes every take. */
  readonly onDropTakes: () => void;
  readonly onCheck: () => void;
  readonly onStopCheck: () => void;
}
