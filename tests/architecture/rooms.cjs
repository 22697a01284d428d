/** Which rooms a room may import, as DEVELOPERS.md draws it. Every core room may also use core/units.ts and core/reading. */
const coreMayUse = {
  reading: [],
  pitch: [],
  instrument: ["pitch"],
  tune: ["pitch"],
  path: ["pitch", "instrument", "tune"],
  exercise: ["pitch", "instrument", "tune", "path"],
  listen: ["pitch"],
  delay: ["listen"],
  simulate: ["pitch", "instrument", "tune", "path", "exercise", "listen", "score"],
  score: ["pitch", "instrument", "tune", "exercise", "listen"],
  progress: ["pitch", "instrument", "tune", "path", "exercise", "listen", "score"],
  archive: ["pitch", "instrument", "tune", "path", "exercise", "score", "progress", "workshop"],
  workshop: ["pitch", "instrument", "tune", "path", "listen", "score", "progress"],
};

const screens = [
  "archive",
  "today",
  "drills",
  "practice",
  "settings",
  "history",
  "progress",
  "instrument",
  "harps",
  "tunes",
  "sound-check",
  "help",
  "workshop",
];

const rooms = Object.entries(coreMayUse).map(([room, others]) => ({
  name: `core-${room}`,
  severity: "error",
  comment: `core/${room} may use units and ${others.join(", ") || "nothing else"}: move what it needs down, or pass it in`,
  from: { path: `^core/${room}/` },
  to: { path: "^core/", pathNot: `^core/(units[.]ts$|reading/|(${[room, ...others].join("|")})/)` },
}));

module.exports = {
  forbidden: [
    ...rooms,
    {
      name: "core-room-known",
      severity: "error",
      comment: "a new core room needs a line in the table above",
      from: {
        path: "^core/",
        pathNot: `^core/(units[.]ts$|reading/|(${Object.keys(coreMayUse).join("|")})/)`,
      },
      to: { path: "." },
    },
    {
      name: "core-is-pure",
      severity: "error",
      comment:
        "core runs in Node, a worker and the window: no Node module, no DOM library, nothing of the other rooms",
      from: { path: "^core/" },
      to: {
        pathNot: [
          "^core/",
          "^node_modules/(pitchy|fft[.]js|tonal|@tonaljs|valibot|abcjs|saxes|fflate|ts-fsrs|simple-statistics|munkres)/",
        ],
      },
    },
    {
      name: "renderer-not-electron",
      severity: "error",
      comment: "the window knows the shell only through the types of the bridge",
      from: { path: "^renderer/" },
      to: { path: "^electron/", pathNot: "^electron/bridge[.]ts$" },
    },
    {
      name: "bridge-is-types",
      severity: "error",
      comment: "import the bridge with `import type`",
      from: { path: "^renderer/" },
      to: { path: "^electron/bridge[.]ts$", dependencyTypesNot: ["type-only"] },
    },
    {
      name: "electron-not-renderer",
      severity: "error",
      comment: "the shell and the headless command use core, never the window",
      from: { path: "^electron/" },
      to: { path: "^renderer/" },
    },
    {
      name: "tone-behind-audio",
      severity: "error",
      comment: "only renderer/audio plays: ask it through its interface",
      from: { path: "^renderer/", pathNot: "^renderer/audio/" },
      to: { path: "^node_modules/tone/" },
    },
    {
      name: "database-behind-store",
      severity: "error",
      comment: "only renderer/store knows the database",
      from: { path: "^renderer/", pathNot: "^renderer/store/" },
      to: { path: "^node_modules/dexie/" },
    },
    {
      name: "screens-apart",
      severity: "error",
      comment: "screens do not import one another or the app: the app joins them",
      from: { path: `^renderer/(${screens.join("|")})/` },
      to: { path: `^renderer/(app|${screens.join("|")})/`, pathNot: "^renderer/$1/" },
    },
    {
      name: "audio-and-store-below-screens",
      severity: "error",
      comment: "audio and store serve the screens, not the other way round",
      from: { path: "^renderer/(audio|store|ui|jobs)/" },
      to: { path: `^renderer/(app|${screens.join("|")})/` },
    },
    {
      name: "product-not-tests",
      severity: "error",
      comment: "what ships does not lean on tests",
      from: { path: "^(core|renderer|electron)/" },
      to: { path: "^tests/" },
    },
    {
      name: "no-cycles",
      severity: "error",
      comment: "two files that need each other are one idea, or a third is missing",
      from: {},
      to: { circular: true },
    },
    {
      name: "nothing-unresolved",
      severity: "error",
      comment: "an import that cannot be followed is not checked",
      from: { path: "^(core|renderer|electron)/" },
      to: { couldNotResolve: true, pathNot: "[?]" },
    },
  ],
};
