import { useEffect, useRef } from "react";
import { drawAbc } from "../ui/draw-abc.ts";
import { useWidth } from "../ui/use-width.ts";

/** A whole ABC tune drawn as it is written. */
export function Drawing({ abc }: { readonly abc: string }) {
  const [box, width] = useWidth<HTMLDivElement>(560);
  const paper = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let left = false;
    void drawAbc(abc, { width, scale: 1, whole: true }).then((drawing) => {
      if (!left) paper.current?.replaceChildren(drawing);
    });
    return () => {
      left = true;
    };
  }, [abc, width]);
  return (
    <div ref={box}>
      <div className="drawing" role="img" aria-label="The tune on a staff" ref={paper} />
    </div>
  );
}
