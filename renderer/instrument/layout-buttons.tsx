import { useRef, useState } from "react";
import { type Layout, sameReeds } from "../../core/instrument/layout.ts";
import { readLayout, writeLayout } from "../../core/instrument/layout-json.ts";
import { stockLayout } from "../../core/instrument/stock-layouts.ts";
import { LIMITS, whyTooLarge } from "../../core/reading/limits.ts";
import { saveTextFile } from "../ui/save-file.ts";
import { withFreeName } from "./layout-draft.ts";

interface LayoutButtonsProps {
  readonly layout: Layout;
  readonly isOwn: boolean;
  readonly own: readonly Layout[];
  readonly onChangeThis: () => void;
  readonly onCopy: () => void;
  readonly onDelete: () => void;
  /** A layout read from a file that is not yet among the player's own. */
  readonly onImport: (layout: Layout) => void;
  /** A layout read from a file that is there already. */
  readonly onShow: (layout: Layout) => void;
}

/** What was said last about a file: one line, and what is unusual about a layout read. */
interface Said {
  readonly role: "status" | "alert";
  readonly words: string;
  readonly warnings: readonly string[];
}

/** What can be done with the layout that is looked at. */
export function LayoutButtons(props: LayoutButtonsProps) {
  const { layout, isOwn, onChangeThis, onCopy, onDelete } = props;
  const [said, setSaid] = useState<Said | null>(null);
  return (
    <>
      <div className="row layout-buttons">
        <button type="button" className="main" onClick={onChangeThis}>
          Change this layout
        </button>
        {isOwn && (
          <button type="button" onClick={onCopy}>
            Copy and change
          </button>
        )}
        <button type="button" onClick={() => void exported(layout).then(setSaid)}>
          Export to a file
        </button>
        <ImportButton onFile={(file) => void imported(file, props).then(setSaid)} />
        {isOwn && (
          <button type="button" onClick={onDelete}>
            Delete this layout
          </button>
        )}
        <button type="button" onClick={() => window.print()}>
          Print
        </button>
      </div>
      {said !== null && (
        <div className="notice" role={said.role}>
          <p>{said.words}</p>
          {said.warnings.length > 0 && (
            <ul>
              {said.warnings.map((warning) => (
                <li key={warning}>{warning}</li>
              ))}
            </ul>
          )}
        </div>
      )}
    </>
  );
}

function ImportButton({ onFile }: { readonly onFile: (file: File) => void }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => input.current?.click()}>
        Import from a file
      </button>
      <input
        ref={input}
        hidden
        type="file"
        accept=".json,application/json"
        aria-label="Layout file"
        onChange={(event) => {
          const file = event.target.files?.[0];
          // The same file may be chosen again.
          event.target.value = "";
          if (file !== undefined) onFile(file);
        }}
      />
    </>
  );
}

const saying = (role: Said["role"], words: string, warnings: readonly string[] = []): Said => ({
  role,
  words,
  warnings,
});

async function exported(layout: Layout): Promise<Said | null> {
  try {
    const result = await saveTextFile(`${layout.id}.json`, writeLayout(layout), "application/json");
    if (result.kind === "cancelled") return null;
    return result.kind === "saved"
      ? saying("status", `Exported to ${result.name}.`)
      : saying("alert", `Not exported: ${result.reason}`);
  } catch (error) {
    return saying("alert", `Not exported: ${error instanceof Error ? error.message : String(error)}.`);
  }
}

async function imported(file: File, { own, onImport, onShow }: LayoutButtonsProps): Promise<Said> {
  const large = whyTooLarge(file.size, LIMITS.smallFileBytes);
  if (large !== null) return saying("alert", `${file.name}: ${large}.`);
  const text = await file.text().catch(() => null);
  if (text === null) return saying("alert", `${file.name} could not be read from the disk.`);
  const read = readLayout(text);
  if (read.kind === "unreadable") return saying("alert", `${file.name}: ${read.reason}.`);
  const warnings = read.warnings.map((warning) => warning.text);
  const { layout } = read;
  const known = [...own, stockLayout(layout.id)].find((one) => one?.id === layout.id) ?? null;
  if (known !== null && known.name === layout.name && sameReeds(known, layout)) {
    onShow(known);
    return saying("status", `${layout.name} is here already.`, warnings);
  }
  const kept = withFreeName(layout, own);
  onImport(kept);
  return saying("status", `Imported as ${kept.name}.`, warnings);
}
