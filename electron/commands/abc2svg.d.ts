/** What we use of abc2svg 1.22.1: ABC to SVG without a page. */
declare module "abc2svg/abc2svg-1.js" {
  export interface AbcUser {
    /** Takes the drawing, piece by piece. */
    img_out(piece: string): void;
    errmsg(message: string, line: number, column: number): void;
    read_file(name: string): string;
  }
  export class Abc {
    constructor(user: AbcUser);
    tosvg(name: string, abc: string): void;
  }
}
