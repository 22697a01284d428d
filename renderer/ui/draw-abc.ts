interface DrawOptions {
  /** Of the place it stands in, in pixels. */
  readonly width: number;
  readonly scale: number;
  /** With title, fields and line breaks as written; otherwise a single line that fills the width. */
  readonly whole?: boolean;
}

/**
 * ABC as a picture, drawn by abcjs outside the document: it puts a style element into its picture, which the content
 * security policy would refuse and report; it only concerns dragging notes, so it is taken out.
 */
export async function drawAbc(
  abc: string,
  { width, scale, whole = false }: DrawOptions,
): Promise<DocumentFragment> {
  const { default: abcjs } = await import("abcjs");
  const paper = document.createElement("div");
  withStylesByObject(() =>
    abcjs.renderAbc(paper, abc, {
      add_classes: true,
      staffwidth: width - 2,
      scale,
      // A line that stands alone fills the width.
      format: { stretchlast: !whole },
      paddingtop: 0,
      paddingbottom: 0,
      paddingleft: 0,
      paddingright: 0,
    }),
  );
  for (const style of paper.querySelectorAll("style")) style.remove();
  for (const title of paper.querySelectorAll("title")) title.remove();
  for (const svg of paper.querySelectorAll("svg")) svg.setAttribute("aria-hidden", "true");
  const drawing = document.createDocumentFragment();
  drawing.append(...paper.childNodes);
  return drawing;
}

/** Why there is no picture, in a sentence for the player. */
export const drawingTrouble = (error: unknown): string =>
  `This music cannot be drawn: ${error instanceof Error ? error.message : String(error)}.`;

/**
 * Makes one picture of several, a line of music each, so that a page may end between them. The picture has to stand in the
 * document, in sight or not, as its lines are measured.
 */
export function splitByLine(svg: SVGSVGElement): void {
  const lines = [...svg.querySelectorAll<SVGGElement>(":scope > g")].map((line) => {
    const { y, height } = line.getBBox();
    return { line, bottom: y + height };
  });
  const width = svg.width.baseVal.value;
  let top = 0;
  const pictures = lines.map(({ line, bottom }) => {
    const picture = document.createElementNS(svg.namespaceURI, "svg") as SVGSVGElement;
    picture.setAttribute("viewBox", `0 ${top} ${width} ${Math.max(1, bottom - top)}`);
    picture.setAttribute("aria-hidden", "true");
    picture.append(line);
    top = Math.max(top, bottom);
    return picture;
  });
  svg.replaceWith(...pictures);
}

/**
 * abcjs writes style attributes, which the policy refuses, where it measures text; the same through the style object is
 * allowed (Content Security Policy 3, section 8.1 on style attributes and CSSOM).
 */
function withStylesByObject(draw: () => unknown): void {
  // biome-ignore lint/complexity/useLiteralKeys: the method of every element is replaced for the time of one drawing
  const original = Element.prototype["setAttribute"];
  let isSetting = false;
  Element.prototype.setAttribute = function (this: Element, name: string, value: string) {
    // A style object may write its attribute by this very method.
    if (name !== "style" || isSetting || !(this instanceof SVGElement || this instanceof HTMLElement)) {
      original.call(this, name, value);
      return;
    }
    isSetting = true;
    this.style.cssText = value;
    isSetting = false;
  };
  try {
    draw();
  } finally {
    Element.prototype.setAttribute = original;
  }
}
