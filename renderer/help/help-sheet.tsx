import { useContext, useEffect, useRef } from "react";
import { CAUTIONS } from "../ui/cautions.ts";
import { isRoom, keyName, VERB_TABLE, VERBS, type Verb } from "../ui/keys.ts";
import { LEGEND } from "../ui/sign-legend.tsx";
import { Keys } from "../ui/use-verbs.tsx";
import "./help.css";

interface HelpSheetProps {
  readonly onClose: () => void;
  readonly onAbout: () => void;
}

/** All keys, the signs of the marks, and the cautions, on one sheet. */
export function HelpSheet({ onClose, onAbout }: HelpSheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} className="help" aria-labelledby="help-title" onClose={onClose}>
      <div className="help-head">
        <h1 id="help-title">Keys, signs, cautions</h1>
        <button type="button" className="main" onClick={() => dialog.current?.close()}>
          Close <kbd>Esc</kbd>
        </button>
      </div>
      <div className="help-parts">
        <table>
          <caption>Keys and pedals; other ones in the settings</caption>
          <tbody>
            {VERBS.filter((verb) => !isRoom(verb)).map((verb) => (
              <tr key={verb}>
                <th scope="row">{VERB_TABLE[verb].words}</th>
                <td>
                  <KeysOf verb={verb} />
                </td>
              </tr>
            ))}
            <tr>
              <th scope="row">To a room</th>
              <td className="help-rooms">
                {VERBS.filter(isRoom).map((verb) => (
                  <span key={verb}>
                    <KeysOf verb={verb} /> {VERB_TABLE[verb].words}
                  </span>
                ))}
              </td>
            </tr>
          </tbody>
        </table>
        <table>
          <caption>Signs of the marks</caption>
          <tbody>
            {LEGEND.map(({ words, picture }) => (
              <tr key={words}>
                <td>
                  <svg className="strip" width={64} height={48} aria-hidden="true">
                    {picture}
                  </svg>
                </td>
                <th scope="row">{words}</th>
              </tr>
            ))}
          </tbody>
        </table>
        <section className="help-cautions">
          <h2>Cautions</h2>
          {CAUTIONS.map(({ risk, words }) => (
            <p key={risk}>
              <strong>{risk}.</strong> {words}
            </p>
          ))}
          <p>
            <button type="button" onClick={onAbout}>
              About Reedpath
            </button>
          </p>
        </section>
      </div>
    </dialog>
  );
}

function KeysOf({ verb }: { readonly verb: Verb }) {
  return useContext(Keys)[verb].map((key) => <kbd key={key}>{keyName(key)}</kbd>);
}
