import { useEffect, useState } from "react";
import {
  type KeyMap,
  keyName,
  keyOf,
  readKeys,
  VERB_TABLE,
  VERBS,
  type Verb,
  verbOf,
  withKey,
  withoutKey,
} from "../ui/keys.ts";
import { Group, type GroupProps } from "./group.tsx";
import { isTaken, NEEDED_KEYS_WORDS } from "./needed-keys.ts";

/** The keys and pedals of everything, changed by pressing the one that is wanted. */
export function KeysGroup({ settings, onChange }: GroupProps) {
  const keys = readKeys(settings.keys);
  const [waiting, setWaiting] = useState<Verb | null>(null);
  const [said, setSaid] = useState("");
  const keep = (words: string, map: KeyMap) => {
    onChange(words, { keys: map });
    setSaid("");
  };
  const press = (verb: Verb, key: string) => {
    if (key === "Escape") return setWaiting(null);
    if (isTaken(key)) return setSaid(`${keyName(key)} cannot be given away: ${NEEDED_KEYS_WORDS}`);
    setWaiting(null);
    keep(givenInWords(keys, verb, key), withKey(keys, verb, key));
  };
  return (
    <Group title="Keys and pedals" fields={["keys"]} settings={settings} onChange={onChange}>
      <p className="key-said" role="status">
        {waiting === null
          ? ""
          : `${said} Press the key or pedal for "${VERB_TABLE[waiting].words}", or Esc to leave it.`}
      </p>
      <table className="key-table">
        <tbody>
          {VERBS.map((verb) => (
            <KeyRow
              key={verb}
              verb={verb}
              keys={keys[verb]}
              isWaiting={waiting === verb}
              onWait={(isWaiting) => {
                setSaid("");
                setWaiting(isWaiting ? verb : null);
              }}
              onPress={(key) => press(verb, key)}
              onRemove={(key) =>
                keep(`${keyName(key)} no longer does "${VERB_TABLE[verb].words}".`, withoutKey(keys, key))
              }
            />
          ))}
        </tbody>
      </table>
    </Group>
  );
}

/** What became of a key, and of whatever had it before. */
function givenInWords(keys: KeyMap, verb: Verb, key: string): string {
  const before = verbOf(keys, key);
  const words = `${keyName(key)} now does "${VERB_TABLE[verb].words}"`;
  return before === null || before === verb
    ? `${words}.`
    : `${words}, and no longer "${VERB_TABLE[before].words}".`;
}

interface KeyRowProps {
  readonly verb: Verb;
  readonly keys: readonly string[];
  readonly isWaiting: boolean;
  readonly onWait: (isWaiting: boolean) => void;
  readonly onPress: (key: string) => void;
  readonly onRemove: (key: string) => void;
}

function KeyRow({ verb, keys, isWaiting, onWait, onPress, onRemove }: KeyRowProps) {
  const { words } = VERB_TABLE[verb];
  useNextKey(isWaiting, onPress);
  return (
    <tr>
      <th scope="row">{words}</th>
      <td>
        <div className="row">
          {keys.map((key) => (
            <button key={key} type="button" className="key" onClick={() => onRemove(key)}>
              <span className="only-read-aloud">Take away from {words}: </span>
              <kbd>{keyName(key)}</kbd> <span aria-hidden="true">×</span>
            </button>
          ))}
          {keys.length === 0 && <span className="soft">no key</span>}
          <button
            type="button"
            aria-pressed={isWaiting}
            onClick={() => onWait(!isWaiting)}
            onBlur={() => isWaiting && onWait(false)}
          >
            {isWaiting ? "Press it …" : "Add a key"}
            <span className="only-read-aloud"> for {words}</span>
          </button>
        </div>
      </td>
    </tr>
  );
}

/** While waiting the next key is told instead of doing what it does. */
function useNextKey(isWaiting: boolean, onPress: (key: string) => void): void {
  useEffect(() => {
    if (!isWaiting) return;
    const onKey = (event: KeyboardEvent) => {
      // Tab still moves on, which ends the waiting.
      if (event.key === "Tab" || isHeldBeside(event)) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      if (!event.repeat) onPress(keyOf(event));
    };
    // Before any other listener of the window.
    window.addEventListener("keydown", onKey, { capture: true });
    return () => window.removeEventListener("keydown", onKey, { capture: true });
  }, [isWaiting, onPress]);
}

const isHeldBeside = ({ ctrlKey, metaKey, altKey, key }: KeyboardEvent) =>
  ctrlKey || metaKey || altKey || ["Shift", "Control", "Alt", "Meta", "CapsLock"].includes(key);
