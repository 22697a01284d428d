/** The tables as version 3 had them, written out: what the code says of them now may change. */
export const VERSION_3 = {
  lines:
    "id, [day+atEpochMs], [subject+day+atEpochMs], [starred+day+atEpochMs], tuneId, [group+day], [item+day], dropAt, demo",
  attempts: "id",
  takes: "id",
  settings: "id",
  layouts: "id",
  harps: "id",
  tunes: "id",
  tuneTexts: "id",
  tuneStudies: "id",
  subjects: "++id, &key",
  days: "day",
  groupDays: "[group+day], day",
  reedDays: "[group+day], day",
  itemDays: "[item+day], day",
  items: "item",
  wishes: "item",
  setLists: "id",
  meta: "id",
};
