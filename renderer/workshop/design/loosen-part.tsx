import { useWriting } from "../../ui/writing.ts";
import type { Loosened } from "./design-messages.ts";

interface LoosenPartProps {
  readonly loosen: readonly Loosened[];
  /** Takes an answer over into the form and looks again. */
  readonly onLoosen: (loosened: Loosened) => void;
}

/** What must give way where nothing keeps all limits. */
export function LoosenPart({ loosen, onLoosen }: LoosenPartProps) {
  const { say } = useWriting();
  return (
    <section className="loosen notice" aria-labelledby="nothing-keeps-all">
      <h2 id="nothing-keeps-all">No layout keeps all of this.</h2>
      {loosen.length === 0 ? (
        <p>No limit that gives way is enough.</p>
      ) : (
        <>
          <p>Any one of these is enough, and no less:</p>
          <ul>
            {loosen.map((one) => (
              <li key={one.words.join()}>
                {say(one.words.join("; and "))}.{" "}
                <button type="button" onClick={() => onLoosen(one)}>
                  Do that
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
