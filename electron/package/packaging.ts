import type { Configuration } from 'electron-builder';

/**
 * How the desktop edition is packaged (electron-builder): what a school's administrator installs. The two bundles in
 * dist hold everything, so no package of npm and no source goes along; nothing asks for a newer version by itself.
 */
export const packaging = {
  appId: 'app.malletloom.desktop',
  productName: 'Malletloom',
  directories: { output: 'dist/packages', buildResources: 'electron/package' },
  files: [
    'dist/electron/main.mjs',
    'dist/electron/preload.cjs',
    'dist/renderer/**/*',
    'package.json',
    '!**/*.map',
    '!**/node_modules/**',
  ],
  extraFiles: [{ from: '.', to: '.', filter: ['LICENSE', 'THIRD-PARTY-NOTICES.md'] }],
  asar: true,
  npmRebuild: false,
  publish: null,
  artifactName: '${productName}-${version}-${os}-${arch}.${ext}',
  // Electron's checklist, point 19: what the program's own file may still be told to do by who starts it.
  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    loadBrowserProcessSpecificV8Snapshot: false,
    grantFileProtocolExtraPrivileges: false,
  },
  fileAssociations: [
    {
      ext: 'malletloom',
      name: 'Malletloom portable file',
      description: 'A piece or a class of Malletloom',
      mimeType: 'application/x-malletloom',
      role: 'Editor',
    },
    // Offered under 'Open with'; what opens such files as a rule stays.
    { ext: ['mid', 'midi'], name: 'MIDI file', mimeType: 'audio/midi', role: 'Viewer', rank: 'Alternate' },
  ],
  win: { target: ['nsis', 'portable', 'msi'], icon: 'electron/package/icons/icon.ico' },
  // For one user without an administrator, or for all who use the computer: it asks.
  nsis: {
    oneClick: false,
    perMachine: false,
    allowElevation: true,
    allowToChangeInstallationDirectory: true,
    // The class library is in the documents; the program's own settings stay for the next installation.
    deleteAppDataOnUninstall: false,
    artifactName: '${productName}-${version}-setup.${ext}',
  },
  portable: { artifactName: '${productName}-${version}-portable.${ext}' },
  // For a room of computers, by group policy.
  msi: { perMachine: true, oneClick: false },
  mac: {
    target: [{ target: 'dmg', arch: ['universal'] }],
    category: 'public.app-category.education',
    icon: 'electron/package/icons/icon.icns',
    hardenedRuntime: true,
    entitlements: 'electron/package/entitlements.plist',
    entitlementsInherit: 'electron/package/entitlements.plist',
    extendInfo: {
      NSMicrophoneUsageDescription:
        'Malletloom hears bars that are struck in the room. Nothing leaves this computer.',
    },
  },
  linux: {
    target: ['deb', 'AppImage'],
    category: 'AudioVideo;Audio;Music;Education',
    icon: 'electron/package/icons',
    maintainer: 'Malletloom maintainers <maintainers@malletloom.invalid>',
    synopsis: 'Catch an idea on tuned percussion, write it, grow it, keep it',
    executableName: 'malletloom',
  },
} as const satisfies Configuration;
