import { arpeggioDrill } from "./arpeggio-drill.ts";
import { backingDrill } from "./backing-drill.ts";
import { bendDrill } from "./bend-drill.ts";
import { breathPairDrill } from "./breath-pair-drill.ts";
import { checkSetting } from "./check-setting.ts";
import type { DrillSpec, MadeExercise } from "./drill-spec.ts";
import { holeJumpDrill } from "./hole-jump-drill.ts";
import { impossible } from "./lay-out.ts";
import { longToneDrill } from "./long-tone-drill.ts";
import { oneBreathDrill } from "./one-breath-drill.ts";
import { patternDrill } from "./pattern-drill.ts";
import { progressionDrill } from "./progression-drill.ts";
import { randomNoteDrill } from "./random-note-drill.ts";
import { scaleDrill } from "./scale-drill.ts";

/**
 * The exercise of a drill. The same spec gives the same exercise.
 *
 * @returns the exercise, or in words why this harp, this player or these numbers allow none; never throws
 */
export function makeDrill(spec: DrillSpec): MadeExercise {
  const reason = checkSetting(spec);
  if (reason !== null) return impossible(reason);
  switch (spec.kind) {
    case "scale":
      return scaleDrill(spec);
    case "arpeggio":
      return arpeggioDrill(spec);
    case "progression":
      return progressionDrill(spec);
    case "backing":
      return backingDrill(spec);
    case "pattern":
      return patternDrill(spec);
    case "bend":
      return bendDrill(spec);
    case "breath-pair":
      return breathPairDrill(spec);
    case "hole-jumps":
      return holeJumpDrill(spec);
    case "one-breath":
      return oneBreathDrill(spec);
    case "long-tones":
      return longToneDrill(spec);
    case "random-notes":
      return randomNoteDrill(spec);
  }
}
