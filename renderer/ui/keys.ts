const ROOM_VERBS = [
  "today",
  "drills",
  "tunes",
  "instrument",
  "progress",
  "sound check",
  "settings",
  "workshop",
] as const;

/** What a key can do. The rooms are entered from anywhere, the rest belongs to the sheet or wherever it makes sense. */
export const VERBS = [
  "start",
  "hear",
  "hear the take",
  "show marks",
  "mark what was played",
  "faster",
  "slower",
  "next phrase",
  "phrase before",
  "skip line",
  "swap line",
  "lengthen line",
  "take the note",
  "reed gives no sound",
  "leave",
  "help",
  ...ROOM_VERBS,
] as const;

export type Verb = (typeof VERBS)[number];

interface VerbRow {
  readonly words: string;
  /** By the names of `KeyboardEvent.key`, letters small. Pedals that turn pages send PageDown and PageUp. */
  readonly usual: readonly string[];
}

export const VERB_TABLE: Readonly<Record<Verb, VerbRow>> = {
  start: { words: "Start, stop, again", usual: [" ", "PageDown"] },
  hear: { words: "Hear it as it should sound", usual: ["h", "PageUp"] },
  "hear the take": { words: "Hear your take", usual: ["t"] },
  "show marks": { words: "Show what marks look like", usual: ["s"] },
  "mark what was played": { words: "Mark what was played before a take broke off", usual: ["m"] },
  faster: { words: "Faster", usual: ["ArrowUp"] },
  slower: { words: "Slower", usual: ["ArrowDown"] },
  "next phrase": { words: "Next phrase, or next reed", usual: ["ArrowRight"] },
  "phrase before": { words: "Phrase before, or reed before", usual: ["ArrowLeft"] },
  "skip line": { words: "Plan: skip the line", usual: ["k"] },
  "swap line": { words: "Plan: something else on the line", usual: ["w"] },
  "lengthen line": { words: "Plan: make the line longer", usual: ["l"] },
  "take the note": { words: "Measuring: it is this reed, take the note", usual: ["y"] },
  "reed gives no sound": { words: "Measuring: the reed gives no sound", usual: ["x"] },
  leave: { words: "Stop, or leave the sheet", usual: ["Escape"] },
  help: { words: "Keys, signs and cautions", usual: ["?", "F1"] },
  today: { words: "Today", usual: ["1"] },
  drills: { words: "Drills", usual: ["2"] },
  tunes: { words: "Tunes", usual: ["3"] },
  instrument: { words: "Instrument", usual: ["4"] },
  progress: { words: "Progress", usual: ["5"] },
  "sound check": { words: "Sound check", usual: ["6"] },
  settings: { words: "Settings", usual: ["7"] },
  workshop: { words: "Workshop", usual: ["8"] },
};

/** Whether it leads to a room. */
export const isRoom = (verb: Verb): boolean => ROOM_VERBS.some((room) => room === verb);

/** The keys of every verb. */
export type KeyMap = Readonly<Record<Verb, readonly string[]>>;

export const USUAL_KEYS: KeyMap = mapped((verb) => VERB_TABLE[verb].usual);

const MOST_KEYS = 4;

/** The keys a player has set, from kept data of unknown shape: what is damaged has its usual keys. */
export function readKeys(kept: unknown): KeyMap {
  const whole: Readonly<Record<string, unknown>> =
    typeof kept === "object" && kept !== null ? { ...kept } : {};
  return mapped((verb) => {
    const keys = whole[verb];
    const good = Array.isArray(keys) && keys.length <= MOST_KEYS && keys.every(isKey);
    return good ? keys : VERB_TABLE[verb].usual;
  });
}

const isKey = (key: unknown): key is string => typeof key === "string" && key !== "" && key.length <= 20;

function mapped(keysOf: (verb: Verb) => readonly string[]): KeyMap {
  return Object.fromEntries(VERBS.map((verb) => [verb, keysOf(verb)])) as KeyMap;
}

/** A key as the map has it: letters small, whatever the caps lock says. */
export function keyOf(event: { readonly key: string }): string {
  return event.key.length === 1 ? event.key.toLowerCase() : event.key;
}

export function verbOf(map: KeyMap, key: string): Verb | null {
  return VERBS.find((verb) => map[verb].includes(key)) ?? null;
}

/** The map with a key given to a verb, and taken from any other that had it. */
export function withKey(map: KeyMap, verb: Verb, key: string): KeyMap {
  return mapped((one) => {
    const others = map[one].filter((known) => known !== key);
    return one === verb ? [...others, key].slice(-MOST_KEYS) : others;
  });
}

/** The map without a key. */
export function withoutKey(map: KeyMap, key: string): KeyMap {
  return mapped((one) => map[one].filter((known) => known !== key));
}

const NAMES: Readonly<Record<string, string>> = {
  " ": "Space",
  ArrowUp: "↑",
  ArrowDown: "↓",
  ArrowLeft: "←",
  ArrowRight: "→",
  PageUp: "Page up",
  PageDown: "Page down",
  Escape: "Esc",
};

/** What stands on the key. */
export function keyName(key: string): string {
  return NAMES[key] ?? (key.length === 1 ? key.toUpperCase() : key);
}
