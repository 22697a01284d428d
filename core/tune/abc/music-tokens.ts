/** What a line of music says besides its notes, and where in the tune's text. */
export type Token =
  /** A note, chord or rest: its head is here, what it is says the parser. */
  | { readonly kind: "sound"; readonly at: number }
  /** Grace notes, and where each of them is. */
  | { readonly kind: "grace"; readonly at: number; readonly heads: readonly number[] }
  /** Rests of so many bars. */
  | { readonly kind: "bar rests"; readonly at: number; readonly bars: number }
  | BarToken
  | { readonly kind: "ending"; readonly at: number; readonly numbers: readonly number[] }
  | TupletToken
  /** "<" or ">": so many dots, and which of the two notes is the longer. */
  | { readonly kind: "broken"; readonly at: number; readonly dots: number; readonly longFirst: boolean }
  /** A decoration by its name. */
  | { readonly kind: "sign"; readonly at: number; readonly name: string }
  /** Text in quotation marks. */
  | { readonly kind: "text"; readonly at: number; readonly text: string }
  | FieldToken;

export interface BarToken {
  readonly kind: "bar";
  readonly at: number;
  /** Times the section ending here is played, 0 if none ends: ":|" is 2. */
  readonly repeatTo: number;
  readonly repeatFrom: number;
  readonly double: boolean;
}

export interface TupletToken {
  readonly kind: "tuplet";
  readonly at: number;
  /** (p:q:r, null where left out. */
  readonly p: number;
  readonly q: number | null;
  readonly r: number | null;
}

/** A field in the body, on a line of its own or in brackets. */
export interface FieldToken {
  readonly kind: "field";
  readonly at: number;
  readonly letter: string;
  readonly value: string;
}

/** Something left out, and where. */
export interface Slip {
  readonly at: number;
  readonly words: string;
}
