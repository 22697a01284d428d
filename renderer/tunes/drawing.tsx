import { useEffect, useRef, useState } from "react";
import { drawAbc, drawingTrouble } from "../ui/draw-abc.ts";
import { useWidth } from "../ui/use-width.ts";

/** A whole ABC tune drawn as it is written. */
export function Drawing({ abc }: { readonly abc: string }) {
  const [box, width] = useWidth<HTMLDivElement>(560);
  const paper = useRef<HTMLDivElement>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    let left = false;
    drawAbc(abc, { width, scale: 1, whole: true }).then(
      (drawing) => {
        if (left) return;
        setTrouble(null);
        paper.current?.replaceChildren(drawing);
      },
      (error: unknown) => {
        if (!left) setTrouble(drawingTrouble(error));
      },
    );
    return () => {
      left = true;
    };
  }, [abc, width]);
  return (
    <div ref={box}>
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      <div className="drawing" role="img" aria-label="The tune on a staff" ref={paper} />
    </div>
  );
}
