import { type ReactNode, useState } from "react";
import { useDisplay } from "../ui/display.ts";
import { fileNameOf } from "../ui/file-name.ts";
import { saveFile, saveTextFile } from "../ui/save-file.ts";
import { useWidth } from "../ui/use-width.ts";
import { type Drawing, FILE_ROOM, type Room } from "./pictures/drawing.ts";
import { Picture } from "./pictures/picture.tsx";
import { pngOfSvg } from "./pictures/png-of-svg.ts";
import { svgFile } from "./pictures/svg-file.ts";

interface FigureProps {
  /** The picture for the room it has. */
  readonly draw: (room: Room) => Drawing;
  /** What it proves; each sentence begins a line in the file. */
  readonly words: readonly string[];
  /** What and when, for the name of the file: "2026-09-01 to 2026-09-30". */
  readonly days: string;
  /** The same numbers as a table. */
  readonly table: ReactNode;
}

/** A picture, the same as a file, and its numbers. */
export function Figure({ draw, words, days, table }: FigureProps) {
  const { textScale, mirrored } = useDisplay();
  const [frame, width] = useWidth<HTMLDivElement>(FILE_ROOM.width);
  const drawing = draw({ width, textScale, mirrored });
  const isWider = drawing.width > width;
  return (
    <div className="figure">
      <div
        ref={frame}
        className="frame"
        {...(isWider
          ? { role: "region", "aria-label": `${drawing.title}, to be moved sideways`, tabIndex: 0 }
          : {})}
      >
        <Picture drawing={drawing} />
      </div>
      <SaveButtons drawing={() => draw({ ...FILE_ROOM, mirrored })} words={words} days={days} />
      <details>
        <summary>The numbers as a table</summary>
        {table}
      </details>
    </div>
  );
}

interface SaveButtonsProps {
  readonly drawing: () => Drawing;
  readonly words: readonly string[];
  readonly days: string;
}

function SaveButtons({ drawing, words, days }: SaveButtonsProps) {
  const [said, setSaid] = useState<{ readonly kind: "saved" | "trouble"; readonly words: string } | null>(
    null,
  );
  const save = async (form: "svg" | "png") => {
    setSaid(null);
    try {
      const picture = drawing();
      const file = svgFile(picture, words);
      const name = `${fileNameOf(picture.title, "progress")}-${days.replaceAll(" ", "-")}.${form}`;
      const result =
        form === "svg"
          ? await saveTextFile(name, file.svg, "image/svg+xml")
          : await saveFile(name, await pngOfSvg(file), "image/png");
      if (result.kind === "saved") setSaid({ kind: "saved", words: `Saved as ${result.name}.` });
      if (result.kind === "failed") setSaid({ kind: "trouble", words: result.reason });
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      setSaid({ kind: "trouble", words: `The picture cannot be saved: ${reason}.` });
    }
  };
  return (
    <p className="row">
      <button type="button" onClick={() => void save("svg")}>
        Save picture as SVG
      </button>
      <button type="button" onClick={() => void save("png")}>
        Save picture as PNG
      </button>
      {said !== null && (
        <span
          role={said.kind === "trouble" ? "alert" : "status"}
          className={said.kind === "trouble" ? "notice" : "soft"}
        >
          {said.words}
        </span>
      )}
    </p>
  );
}
