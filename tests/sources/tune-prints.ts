/**
 * The numbers of old prints whose tunes may come with the program, with their titles [the project's fact sheet, section
 * 10: numbers as seen in public transcriptions of the prints, F74-F76].
 */
export interface PrintedTune {
  readonly print: string;
  readonly number: number;
  readonly title: string;
}

export const ONEILL = "O'Neill, Music of Ireland, Chicago 1903";
export const AIRD = "Aird, A Selection of Scotch, English, Irish and Foreign Airs, vol. 1, Glasgow 1778";

const oneill = (number: number, title: string): PrintedTune => ({ print: ONEILL, number, title });

// biome-ignore format: one row a number
export const PRINTED_TUNES: readonly PrintedTune[] = [
  oneill(717, "Saddle the Pony"),
  oneill(730, "Cherish the Ladies"),
  oneill(759, "Paddy Whack"),
  oneill(776, "Banish Misfortune"),
  oneill(847, "The Rakes of Kildare"),
  oneill(929, "The Tenpenny Bit"),
  oneill(930, "The Tenpenny Bit"),
  oneill(965, "Smash the Windows"),
  oneill(971, "Garryowen"),
  oneill(987, "Haste to the Wedding"),
  oneill(1019, "The Lark in the Morning"),
  oneill(1020, "The Lark in the Morning"),
  oneill(1116, "The Rocky Road to Dublin"),
  oneill(1155, "The Kid on the Mountain"),
  oneill(1218, "The Star of Munster"),
  oneill(1240, "The Green Fields of America"),
  oneill(1268, "The Swallow's Tail"),
  oneill(1277, "Bonnie Kate"),
  oneill(1348, "Salamanca Reel"),
  oneill(1361, "Money Musk"),
  oneill(1418, "Miss McLeod's Reel"),
  oneill(1518, "The Wind that Shakes the Barley"),
  oneill(1556, "Chief O'Neill's Favorite"),
  oneill(1564, "The Devil's Dream"),
  oneill(1565, "Liverpool Hornpipe"),
  oneill(1575, "Fisher's Hornpipe"),
  oneill(1576, "Fisher's Hornpipe"),
  oneill(1603, "The Harvest Home"),
  oneill(1628, "Off to California"),
  oneill(1629, "Off to California"),
  oneill(1642, "The Soldier's Joy"),
  oneill(1700, "The Boys of Bluehill"),
  oneill(1733, "The Cuckoo's Nest"),
  oneill(1734, "The Cuckoo's Nest"),
  oneill(1814, "The Rakes of Mallow"),
  { print: AIRD, number: 1, title: "The Ranting Highlandman" },
];
