import { useState } from "react";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";
import { writeMidi } from "../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { saveFile, saveTextFile } from "../ui/save-file.ts";
import { useWriting } from "../ui/writing.ts";
import type { OpenTune } from "./tune-view.ts";

/** The tune as a file for other programs; the tab goes with it where the notation has a place for it. */
export function ExportButtons({ open, plan }: { readonly open: OpenTune; readonly plan: TunePlan }) {
  const { tune } = open;
  const writing = useWriting();
  const [trouble, setTrouble] = useState<string | null>(null);
  const name = tune.title.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "tune";
  const texts = plan.path.actions.map((action) => (action === null ? null : writing.action(action)));
  const save = (work: () => Promise<unknown>) => {
    setTrouble(null);
    // A writer throws at what its notation cannot hold.
    Promise.resolve()
      .then(work)
      .catch((error: unknown) => setTrouble(error instanceof Error ? error.message : String(error)));
  };
  return (
    <>
      <button
        type="button"
        onClick={() => save(() => saveTextFile(`${name}.abc`, writeAbc(tune), "text/vnd.abc"))}
      >
        Save as ABC
      </button>{" "}
      <button
        type="button"
        onClick={() => save(() => saveTextFile(`${name}.musicxml`, writeMusicXml(tune, { texts }), MUSICXML))}
      >
        Save as MusicXML
      </button>{" "}
      <button
        type="button"
        onClick={() => save(() => saveFile(`${name}.mid`, writeMidi(tune), "audio/midi"))}
      >
        Save as MIDI
      </button>
      {trouble !== null && (
        <span className="notice" role="alert">
          It cannot be saved: {trouble}.
        </span>
      )}
    </>
  );
}

const MUSICXML = "application/vnd.recordare.musicxml+xml";
