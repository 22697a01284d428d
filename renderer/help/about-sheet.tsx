import { type SyntheticEvent, useEffect, useRef, useState } from "react";
import { brought, window as ofWindow, program } from "../../assets/dependencies.json";
import { version } from "../../package.json";
import "./help.css";

interface AboutSheetProps {
  /** Whether the window is the desktop program's own, which is made of more than the page. */
  readonly isDesktop: boolean;
  readonly onClose: () => void;
}

/** What the program is: its version, its licence, and the packages of other people in it with theirs. */
export function AboutSheet({ isDesktop, onClose }: AboutSheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} className="help about" aria-labelledby="about-title" onClose={onClose}>
      <div className="help-head">
        <h1 id="about-title">Reedpath {version}</h1>
        <button type="button" className="main" onClick={() => dialog.current?.close()}>
          Close <kbd>Esc</kbd>
        </button>
      </div>
      <p>A practice trainer for players of ten-hole diatonic harmonicas who play traditional dance tunes.</p>
      <p>By the Reedpath makers, under the MIT licence.</p>
      <p>
        Sound never leaves this computer: the window asks nothing of any network, and the microphone is open
        only while the screen says so.
      </p>
      <h2>Packages of other people</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Package</th>
            <th scope="col">Licence</th>
            <th scope="col">What for</th>
          </tr>
        </thead>
        <tbody>
          {[...(isDesktop ? program : []), ...ofWindow].map((one) => (
            <tr key={one.name}>
              <th scope="row">
                {one.name} {one.version}
              </th>
              <td>{one.licence}</td>
              <td>{one.purpose}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <details>
        <summary>{brought.length} more that these bring along</summary>
        <p className="about-brought">
          {brought.map((one) => (
            <span key={one.name}>
              {one.name} {one.version} ({one.licence})
            </span>
          ))}
        </p>
      </details>
      <LicenceTexts />
    </dialog>
  );
}

type Texts =
  | { readonly kind: "reading" }
  | { readonly kind: "read"; readonly text: string }
  | { readonly kind: "trouble" };

/** The words of all licences, which lie beside the page and are read once they are asked for. */
function LicenceTexts() {
  const [texts, setTexts] = useState<Texts | null>(null);
  const read = async (event: SyntheticEvent<HTMLDetailsElement>) => {
    if (!event.currentTarget.open || texts?.kind === "read") return;
    setTexts({ kind: "reading" });
    try {
      const answer = await fetch("./third-party-licences.txt");
      setTexts(answer.ok ? { kind: "read", text: await answer.text() } : { kind: "trouble" });
    } catch {
      setTexts({ kind: "trouble" });
    }
  };
  return (
    <details onToggle={(event) => void read(event)}>
      <summary>The words of their licences</summary>
      {texts?.kind === "reading" && <p role="status">Reading them …</p>}
      {texts?.kind === "trouble" && (
        <p className="notice" role="alert">
          They cannot be read. They lie beside the program as third-party-licences.txt.
        </p>
      )}
      {texts?.kind === "read" && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what is scrolled has to be reached without a mouse
        <section className="licence-texts" tabIndex={0} aria-label="The words of their licences">
          <pre>{texts.text}</pre>
        </section>
      )}
    </details>
  );
}
