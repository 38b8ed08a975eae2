// Imports go one way. An allow-list that starts from nothing: what is not named here is an error.
const LAYERS = [
  'foundation',
  'take',
  'reading',
  'motif',
  'parts',
  'score',
  'playable',
  'piece',
  'playback',
  'exchange',
  'library',
  'bridge',
];
const MAY = {
  foundation: ['foundation'],
  take: ['take', 'foundation'],
  reading: ['reading', 'take', 'foundation'],
  motif: ['motif', 'reading', 'take', 'foundation'],
  parts: ['parts', 'motif', 'reading', 'take', 'foundation'],
  score: ['score', 'parts', 'motif', 'reading', 'take', 'foundation'],
  playable: ['playable', 'score', 'parts', 'motif', 'reading', 'take', 'foundation'],
  piece: ['piece', 'playable', 'score', 'parts', 'motif', 'reading', 'take', 'foundation'],
  playback: ['playback', 'piece', 'playable', 'score', 'parts', 'motif', 'reading', 'take', 'foundation'],
  exchange: [
    'exchange',
    'playback',
    'piece',
    'playable',
    'score',
    'parts',
    'motif',
    'reading',
    'take',
    'foundation',
  ],
  library: ['library', 'piece', 'playable', 'score', 'parts', 'motif', 'reading', 'take', 'foundation'],
  bridge: [
    'bridge',
    'library',
    'piece',
    'playable',
    'score',
    'parts',
    'motif',
    'reading',
    'take',
    'foundation',
  ],
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
