import { BREATH_CAUTION } from "../../core/exercise/caution.ts";
import { REED_WORK_CAUTION } from "../../core/workshop/reed-work-caution.ts";

/**
 * What to mind, in plain advice: hearing after the NIOSH Science Blog of 8 February 2016 and Neitzel and Fligor, JASA
 * 146 (2019) 3911; cleanliness after Int. J. Environ. Health Res. 21 (2011) 275; strain is common practice.
 */
export const CAUTIONS: readonly { readonly risk: string; readonly words: string }[] = [
  { risk: "Breath", words: BREATH_CAUTION },
  {
    risk: "Hearing",
    words:
      "Keep headphones low, take breaks, and use ear protection in loud sessions. Ask an audiologist about ringing or dullness.",
  },
  {
    risk: "Cleanliness",
    words:
      "Do not share a harp. Rinse mouth and hands before playing, tap out and dry the harp after it, and do not play when ill.",
  },
  {
    risk: "Strain",
    words:
      "Pain in lips, jaw, hands or wrist: stop and rest, and ask a teacher or a clinician if it comes back.",
  },
  { risk: "Reed work", words: REED_WORK_CAUTION },
];
