import { useEffect, useRef, useState } from "react";
import { noteName } from "../../core/pitch/note-names.ts";
import { midi } from "../../core/units.ts";
import type { LiveReading, MicrophoneSession, OpenMicrophone } from "../audio/microphone.ts";
import { troubleWords, wayOn } from "../audio/sound-trouble.ts";
import { useWriting } from "../ui/writing.ts";

type Trial =
  | { readonly kind: "closed" }
  | { readonly kind: "opening" }
  | { readonly kind: "open"; readonly device: string }
  | { readonly kind: "trouble"; readonly words: string };

/** What is heard, kept while it lasts so that the words do not flicker. */
type Heard = "nothing" | "no sound at all" | "too quiet" | "clipping" | { readonly note: number };

interface MicrophoneStepProps {
  readonly openMicrophone: OpenMicrophone;
  readonly onDone: () => void;
}

/** Opens the microphone on trial and says what it hears; it is closed again when the step is left. */
export function MicrophoneStep({ openMicrophone, onDone }: MicrophoneStepProps) {
  const [trial, setTrial] = useState<Trial>({ kind: "closed" });
  const [heard, setHeard] = useState<Heard>("nothing");
  const [wasHeard, setWasHeard] = useState(false);
  const session = useRef<MicrophoneSession | null>(null);
  const isLeft = useRef(false);
  useEffect(() => {
    isLeft.current = false;
    return () => {
      isLeft.current = true;
      session.current?.close();
      session.current = null;
    };
  }, []);
  const open = async () => {
    setTrial({ kind: "opening" });
    const opened = await openMicrophone();
    if (opened.kind === "problem") return setTrial({ kind: "trouble", words: opened.problem.words });
    if (isLeft.current) return opened.session.close();
    session.current = opened.session;
    opened.session.onReading((reading) => {
      const now = heardIn(reading);
      setHeard(now);
      if (typeof now === "object") setWasHeard(true);
    });
    opened.session.onEnded(({ trouble }) => {
      session.current = null;
      setTrial({ kind: "trouble", words: `${troubleWords(trouble)} ${wayOn(trouble, "try again")}.` });
    });
    setTrial({ kind: "open", device: opened.session.deviceName });
  };
  return (
    <>
      <p>Reedpath hears you through the microphone. The sound never leaves this machine.</p>
      <TrialWords trial={trial} heard={heard} />
      {trial.kind === "open" ? (
        <button type="button" className={wasHeard ? "main" : ""} onClick={onDone}>
          {wasHeard ? "It hears me" : "Go on all the same"}
        </button>
      ) : (
        <button
          type="button"
          className="main"
          disabled={trial.kind === "opening"}
          onClick={() => void open()}
        >
          {trial.kind === "trouble" ? "Try again" : "Try the microphone"}
        </button>
      )}
    </>
  );
}

function TrialWords({ trial, heard }: { readonly trial: Trial; readonly heard: Heard }) {
  const { note } = useWriting();
  switch (trial.kind) {
    case "closed":
      return null;
    case "opening":
      return <p role="status">Opening the microphone … The system may ask whether it is allowed.</p>;
    case "trouble":
      return (
        <p className="notice" role="alert">
          {trial.words}
        </p>
      );
    case "open":
      return (
        <p role="status" className="heard-on-trial">
          {typeof heard === "object" ? `${note(noteName(midi(heard.note)))} is heard.` : HEARD_WORDS[heard]}{" "}
          <span className="soft">{trial.device}</span>
        </p>
      );
  }
}

const HEARD_WORDS = {
  nothing: "Play any note.",
  "no sound at all": "No sound at all comes from the microphone: is it allowed in the system's settings?",
  "too quiet": "Too quiet: nearer to the microphone.",
  clipping: "Too loud for the microphone: further from it.",
} as const;

/** Quieter than this a note is too quiet to mark well, as on the practice sheet. */
const TOO_QUIET_DBFS = -50;

function heardIn({ pitchMidi, levelDbfs, clipped, silent }: LiveReading): Heard {
  if (silent) return "no sound at all";
  if (clipped) return "clipping";
  if (pitchMidi === null) return "nothing";
  return levelDbfs < TOO_QUIET_DBFS ? "too quiet" : { note: Math.round(pitchMidi) };
}
