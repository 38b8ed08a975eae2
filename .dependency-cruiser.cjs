// Imports go one way. An allow-list that starts from nothing: a folder or an import that is not named here
// is an error. Type imports count. test/imports/check.ts proves that each kind of mistake is refused.

/** Folders in order: each sees itself and all before it. */
const chain = (...order) => order.map((name, i) => [name, order.slice(0, i + 1)]);

/** The rooms of the reader; `knownBeat` and `writing` do not see each other. */
const READER = [
  ...chain('model', 'rhythm', 'search', 'repeats', 'onBeat', 'knownBeat'),
  ['writing', ['model', 'rhythm', 'search', 'repeats', 'onBeat', 'writing']],
  ['freeBeat', ['model', 'rhythm', 'search', 'repeats', 'onBeat', 'knownBeat', 'writing', 'freeBeat']],
];
const UNDER_READER = ['foundation', 'take'];

const MUSIC = [
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
const CORE = [
  ...chain(...MUSIC).filter(([name]) => name !== 'reading'),
  ['playback', [...MUSIC, 'playback']],
  ['exchange', [...MUSIC, 'playback', 'exchange']],
  ['rehearse', [...MUSIC, 'playback', 'rehearse']],
  ['hearing', ['foundation', 'take', 'hearing']],
  ['library', [...MUSIC, 'library']],
  ['evidence', [...MUSIC, 'playback', 'exchange', 'evidence']],
  ['bridge', [...MUSIC, 'library', 'bridge']],
];

/** What each folder of the renderer sees of it. */
const DEVICES = ['page', 'sound', 'input', 'storage', 'reading', 'hearing'];
const RENDERER = [
  ['threads', ['threads']],
  ...DEVICES.map(name => [name, [name, 'threads']]),
  ['pdf', ['page', 'pdf']],
  ['desk', [...DEVICES, 'pdf', 'desk']],
  ['views', [...DEVICES, 'pdf', 'desk', 'views']],
];

const ELECTRON = [
  ['loopback', ['loopback']],
  ['desktop', ['loopback', 'desktop']],
  ['cli', ['loopback', 'desktop', 'cli']],
  ['package', ['loopback', 'desktop', 'cli', 'package']],
];

/** Packages, and the only folders that may import them. */
const PACKAGES = [
  ['mathjs', '^core/foundation/'],
  ['@tonejs/midi', '^core/foundation/'],
  ['fflate', '^core/(library/portable|evidence)/'],
  ['workbox-core', '^renderer/threads/serviceWorker[.]ts$'],
  ['workbox-precaching', '^renderer/threads/serviceWorker[.]ts$'],
  ['zod', '^core/foundation/schema'],
  ['vexflow', '^renderer/page/'],
  ['tone', '^renderer/sound/'],
  ['webmidi', '^renderer/input/'],
  ['@cantoo/pdf-lib', '^renderer/pdf/'],
  ['fontkit', '^renderer/pdf/'],
  ['@vexflow-fonts/bravura', '^renderer/pdf/'],
  ['@fontsource/atkinson-hyperlegible', '^renderer/(pdf|styles)/'],
  ['preact', '^renderer/(views/|desk/|main[.]tsx$|app[.]tsx$)'],
  ['@preact/signals', '^renderer/(views|storage|desk)/|^renderer/(main|app)[.]tsx$'],
  ['electron', '^electron/desktop/'],
  ['esbuild', '^electron/cli/'],
  ['vite', '^electron/cli/'],
  ['electron-builder', '^electron/package/'],
];

const escaped = text => text.replaceAll('/', '[/]').replaceAll('.', '[.]');
const folders = (root, names) => `^${root}/(${names.join('|')})/`;

module.exports = {
  allowedSeverity: 'error',
  allowed: [
    ...CORE.map(([name, may]) => ({ from: { path: `^core/${name}/` }, to: { path: folders('core', may) } })),
    ...READER.map(([name, may]) => ({
      from: { path: `^core/reading/${name}/` },
      to: { path: [folders('core/reading', may), folders('core', UNDER_READER)] },
    })),
    {
      from: { path: '^core/reading/whilePlaying/' },
      to: { path: [folders('core', UNDER_READER), '^core/reading/'] },
    },
    {
      from: { path: '^core/reading/read[.]ts$' },
      to: { path: folders('core', [...UNDER_READER, 'reading']) },
    },
    ...RENDERER.map(([name, may]) => ({
      from: { path: `^renderer/${name}/` },
      to: { path: ['^core/', folders('renderer', may)] },
    })),
    {
      from: { path: '^renderer/(main|app)[.]tsx$' },
      to: {
        path: [
          '^core/',
          '^renderer/app[.]tsx$',
          folders('renderer', [...RENDERER.map(([n]) => n), 'styles']),
        ],
      },
    },
    ...ELECTRON.map(([name, may]) => ({
      from: { path: `^electron/${name}/` },
      to: { path: ['^core/', folders('electron', may)] },
    })),
    { from: { path: '^electron/' }, to: { dependencyTypes: ['core'] } },
    ...PACKAGES.map(([name, from]) => ({
      from: { path: from },
      to: { path: `(^|/)node_modules/${escaped(name)}/|^${escaped(name)}/` },
    })),
    // What an allowed package imports itself is its own affair.
    { from: { path: 'node_modules' }, to: {} },
  ],
  forbidden: [
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
