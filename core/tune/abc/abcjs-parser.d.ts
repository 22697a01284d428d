/** What we use of abcjs: its parser alone, which needs no page. Shapes as its source (6.7.2) makes them. */
declare module "abcjs/src/parse/abc_parse.js" {
  export type AbcjsAccidental =
    | "sharp"
    | "dblsharp"
    | "flat"
    | "dblflat"
    | "natural"
    | "quartersharp"
    | "quarterflat";

  export interface AbcjsPitch {
    /** Steps of the scale above middle C. */
    readonly pitch: number;
    readonly accidental?: AbcjsAccidental;
    readonly startTie?: object;
  }

  export interface AbcjsElement {
    readonly el_type: string;
    readonly startChar: number;
    readonly endChar: number;
    /** Semibreves. */
    readonly duration?: number;
    readonly pitches?: readonly AbcjsPitch[];
    readonly rest?: { readonly type: string };
  }

  interface AbcjsLine {
    readonly staff?: readonly { readonly voices: readonly (readonly AbcjsElement[])[] }[];
  }

  class Parse {
    parse(text: string, switches: object, startPosition: number): void;
    getTune(): { readonly lines: readonly AbcjsLine[] };
  }
  // biome-ignore lint/style/noDefaultExport: the package is made so
  export default Parse;
}
