/**
 * Said with every drill that works the breath hard or holds it long. Fast deep breathing lowers carbon dioxide and
 * brings light-headedness (HealthLink BC, Hyperventilation); long tones with few breaths raise it and bring
 * breathlessness (study of French horn playing).
 */
export const BREATH_CAUTION =
  "Play relaxed. Stop and rest if you feel light-headed, tingling, short of breath or unwell; breathe normally. If it does not pass, or you have a heart or lung condition, are pregnant or recently had surgery, ask a doctor before long drills.";

/** Hard breathing is kept this short before an equal rest; common practice, no source. */
export const LONGEST_ROUND_SECONDS = 60;
/** The longest one breath a drill asks for, be it a held tone or a run; common practice, no source. */
export const LONGEST_BREATH_SECONDS = 15;
