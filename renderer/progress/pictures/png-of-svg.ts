import type { SvgFile } from "./svg-file.ts";

/** Pixels of the picture file to one of the drawing: sharp on paper and on dense screens. */
export const PNG_SCALE = 2;

/**
 * A picture file as PNG, twice its size, drawn by the browser itself.
 *
 * @throws Error if the browser cannot draw it
 */
export async function pngOfSvg({ svg, width, height }: SvgFile): Promise<Uint8Array> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = PNG_SCALE * width;
  canvas.height = PNG_SCALE * height;
  const context = canvas.getContext("2d");
  if (context === null) throw new Error("there is no memory for a picture of this size");
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
  if (blob === null) throw new Error("there is no memory for a picture of this size");
  return new Uint8Array(await blob.arrayBuffer());
}
