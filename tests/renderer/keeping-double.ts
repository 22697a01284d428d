import type { Keeping } from "../../renderer/settings/keeping.ts";

/** A history with nothing in it, of which a browser promises nothing. */
export const NOTHING_KEPT: Keeping = {
  space: {
    kind: "read",
    space: { takes: 0, takeBytes: 0, withoutTake: 0, usedBytes: null, quotaBytes: null },
  },
  persistence: "not promised",
  copy: "whole",
  check: { kind: "none" },
  needsRecount: false,
  onAskToKeep: () => {},
  onFitTakes: () => {},
  onDropTakes: () => {},
  onCheck: () => {},
  onStopCheck: () => {},
};
