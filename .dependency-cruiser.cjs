// Imports go one way. An allow-list that starts from nothing: what is not named here is an error.
const ORDER = [
  'foundation',
  'take',
  'reading',
  'motif',
  'instruments',
  'plan',
  'growing',
  'entries',
  'score',
  'playable',
  'piece',
];
/** Each of the order sees itself and all below it; the last four see all of it, and what is named. */
const MAY = {
  ...Object.fromEntries(ORDER.map((layer, i) => [layer, ORDER.slice(0, i + 1)])),
  playback: [...ORDER, 'playback'],
  exchange: [...ORDER, 'playback', 'exchange'],
  library: [...ORDER, 'library'],
  bridge: [...ORDER, 'library', 'bridge'],
};
const LAYERS = Object.keys(MAY);
/** The rooms of the reader: each sees itself and those named. read.ts, above all of them, is seen by none. */
const BELOW = ['model', 'rhythm', 'search', 'repeats', 'onBeat'];
const ROOMS = {
  ...Object.fromEntries(BELOW.map((room, i) => [room, BELOW.slice(0, i)])),
  knownBeat: BELOW,
  writing: BELOW,
  freeBeat: [...BELOW, 'knownBeat', 'writing'],
};
const PURE = ['mathjs', '@tonejs/midi', 'zod'];

module.exports = {
  forbidden: [
    ...LAYERS.map(layer => ({
      name: `core-${layer}-imports-downward-only`,
      severity: 'error',
      from: { path: `^core/${layer}/` },
      to: { pathNot: [...MAY[layer].map(l => `^core/${l}/`), ...PURE.map(p => `node_modules/${p}/`)] },
    })),
    ...Object.entries(ROOMS).map(([room, below]) => ({
      name: `reading-${room}-imports-downward-only`,
      severity: 'error',
      from: { path: `^core/reading/${room}/` },
      to: { path: '^core/reading/', pathNot: [room, ...below].map(r => `^core/reading/${r}/`) },
    })),
    {
      name: 'reading-has-no-other-rooms',
      severity: 'error',
      from: {},
      to: {
        path: '^core/reading/',
        pathNot: ['^core/reading/read[.]ts$', ...Object.keys(ROOMS).map(r => `^core/reading/${r}/`)],
      },
    },
    {
      name: 'renderer-imports-core-and-itself',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^(electron|test)/' },
    },
    {
      name: 'electron-imports-core-and-itself',
      severity: 'error',
      from: { path: '^electron/' },
      to: { path: '^(renderer|test)/' },
    },
    {
      name: 'only-page-draws',
      severity: 'error',
      from: { pathNot: '^renderer/page/' },
      to: { path: 'node_modules/vexflow/' },
    },
    {
      name: 'only-sound-sounds',
      severity: 'error',
      from: { pathNot: '^renderer/sound/' },
      to: { path: 'node_modules/tone/' },
    },
    {
      name: 'only-input-listens',
      severity: 'error',
      from: { pathNot: '^renderer/input/' },
      to: { path: 'node_modules/webmidi/' },
    },
    {
      name: 'no-circles',
      severity: 'error',
      from: { path: '^(core|renderer|electron)/' },
      to: { circular: true },
    },
    {
      name: 'nothing-unresolvable',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '[.]css$|^@fontsource' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: require('node:path').join(__dirname, 'tsconfig.json') },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
