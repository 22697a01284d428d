import { useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { writeWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { toCsv, toTsv } from "../../core/score/csv.ts";
import { marksTable } from "../../core/score/marks-table.ts";
import { copyText } from "../ui/copy-text.ts";
import { fileNameOf } from "../ui/file-name.ts";
import { saveFile, saveTextFile } from "../ui/save-file.ts";
import { SureButton } from "../ui/sure-button.tsx";
import type { HeardTake } from "./practice-state.ts";

interface TakeFilesProps {
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Null where it is no longer kept. */
  readonly take: HeardTake | null;
  /** Deletes the take; null where it is not kept, or no longer. */
  readonly onDelete?: (() => Promise<void>) | null;
}

/** The take and its marks as files, and the marks for the clipboard. */
export function TakeFiles({ exercise, attempt, take, onDelete = null }: TakeFilesProps) {
  const [said, setSaid] = useState<string | null>(null);
  const name = fileNameOf(attempt.title, "take");
  const run = (work: () => Promise<string | null>) => {
    setSaid(null);
    work().then(setSaid, (error: unknown) =>
      setSaid(`That did not work: ${error instanceof Error ? error.message : String(error)}`),
    );
  };
  const saved = async (work: Promise<unknown>) => {
    await work;
    return null;
  };
  const table = () => marksTable(exercise, attempt);
  return (
    <p className="take-files">
      {take !== null && (
        <button
          type="button"
          onClick={() => run(() => saved(saveFile(`${name}.wav`, wavOf(take), "audio/wav")))}
        >
          Save the take (WAV)
        </button>
      )}
      <button
        type="button"
        onClick={() => run(() => saved(saveTextFile(`${name}.csv`, toCsv(table()), "text/csv")))}
      >
        Save the marks (CSV)
      </button>
      <button
        type="button"
        onClick={() =>
          run(() =>
            saved(saveTextFile(`${name}.json`, `${JSON.stringify(attempt, null, 2)}\n`, "application/json")),
          )
        }
      >
        Save the marks (JSON)
      </button>
      <button
        type="button"
        onClick={() =>
          run(async () => {
            await copyText(toTsv(table()));
            return "The marks are on the clipboard.";
          })
        }
      >
        Copy the marks
      </button>
      {onDelete !== null && (
        <SureButton
          words="Delete the take"
          warning="Its sound goes for good; the marks stay."
          onSure={() => run(() => saved(onDelete()))}
        />
      )}
      <span role="status">{said}</span>
    </p>
  );
}

/** As it was recorded, to the last bit. */
const wavOf = ({ samples, sampleRateHz }: HeardTake) =>
  writeWav(samples, Math.round(sampleRateHz), "float32");
