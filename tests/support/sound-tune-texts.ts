import { shippedTunes } from "./shipped-tunes.ts";

/** Every construct in a few lines. */
const EVERYTHING = `%abc-2.1
C:nobody

X:1
T:A tune of ours
T:Its other name
M:6/8
L:1/8
Q:"quick" 3/8=120
R:jig
P:A2.(AB)2
U:T = !trill!
V:1 clef=treble
V:2 octave=-1
K:D dorian ^g
P:A
V:1
A|:"Am"A>B{gf}c (3def|!segno!~g2 .a [ceg]3-|1 [ceg]3 z3:|2 [ceg]6|]
V:2
Z3|
P:B
V:1
[M:4/4][L:1/16](5:4:5abcde (2f4g4 & C16|!coda!A,,2 ^^f''/ _e// !fine!=d3/2 x2|!D.S.alcoda!Z2||
w:some words
[K:Hp]c8::f8:|!coda!a16|]
`;

/** Sound texts that mutations start from. */
export const soundTexts = (): readonly string[] => [
  EVERYTHING,
  ...shippedTunes("traditional").slice(0, 8),
  ...shippedTunes("village-band").slice(0, 4),
];
