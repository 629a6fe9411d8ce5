import { fileURLToPath } from 'node:url'
import type { Plugin, UserConfig } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { defineConfig } from 'vitest/config'
import { contentSecurityPolicy } from './sync/desk/security-headers.ts'

/** Pages by the name of their script: the app, and two phones side by side. A page made for a test is alone in its folder. */
const APP = 'index.html'
const PAGES = { app: APP, 'two-phones': 'demo/two-phones.html', 'demo-phone': 'demo/two-phones/phone.html' }
const pages: Plugin = {
  name: 'outspoke pages',
  config: ({ root }): UserConfig => ({ build: { rolldownOptions: { input: root === undefined ? PAGES : APP } } }),
}
/** As components/app/spoke-take-in.ts names bundles. */
const BUNDLE_ENDING = '.outspoke-bundle'
const PAPER = '#fbfaf5'

const contentSecurity: Plugin = {
  name: 'outspoke content security',
  transformIndexHtml: {
    order: 'post',
    handler: (_, { path }) => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: contentSecurityPolicy(path) },
        injectTo: 'head-prepend',
      },
    ],
  },
}

/**
 * Everything is kept at the first visit, so that the network may be off from then on. The first worker takes hold of the
 * page at once; a later one waits until a person says so (components/app/update.ts).
 */
const offline = VitePWA({
  strategies: 'generateSW',
  registerType: 'prompt',
  injectRegister: false,
  includeManifestIcons: false,
  workbox: {
    globPatterns: ['**/*.{html,js,css,json,svg,png,webmanifest}'],
    // Two phones side by side are not part of the app: no phone carries them, and their address is their own.
    globIgnores: ['demo/**', 'assets/two-phones-*', 'assets/demo-phone-*'],
    navigateFallback: 'index.html',
    importScripts: ['shared-files.js'],
    navigateFallbackDenylist: [/\/demo\//],
    clientsClaim: true,
    skipWaiting: false,
    cleanupOutdatedCaches: true,
    inlineWorkboxRuntime: true,
    sourcemap: false,
    dontCacheBustURLsMatching: /^assets\//,
  },
  manifest: {
    id: './',
    start_url: './',
    scope: './',
    name: 'Outspoke',
    short_name: 'Outspoke',
    description: 'Each chair made ready for the person who will sit in it, with or without a network',
    lang: 'en',
    display: 'standalone',
    background_color: PAPER,
    theme_color: PAPER,
    // A bundle handed to the app in the share sheet: components/app/static/shared-files.js takes it.
    share_target: {
      action: './take-in',
      method: 'POST',
      enctype: 'multipart/form-data',
      params: { files: [{ name: 'bundles', accept: ['application/octet-stream', BUNDLE_ENDING] }] },
    },
    icons: [
      { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
      { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    ],
  },
})

// biome-ignore lint/style/noDefaultExport: vite reads its configuration from the default export
export default defineConfig(({ command }) => ({
  base: './',
  // Of the app also where the root is a page made for a test: its worker asks for what lies there.
  publicDir: fileURLToPath(new URL('components/app/static', import.meta.url)),
  resolve: { dedupe: ['yjs'] },
  plugins: command === 'build' ? [pages, contentSecurity, offline] : [],
  build: {
    target: 'es2022',
    // Named file by file for the check of the first screen's size; beside it the licences of what is shipped.
    manifest: true,
    license: { fileName: 'licences.md' },
    modulePreload: { polyfill: false },
    rolldownOptions: {
      output: {
        // The rule for zod has to hold before the first schema is made: in one piece with zod, that piece runs first.
        codeSplitting: { groups: [{ name: 'schemas', test: /[\\/]zod[\\/]|content-rules\.ts$/ }] },
      },
    },
  },
  test: {
    // Long runs of the properties take 40 times as long.
    testTimeout: process.env.OUTSPOKE_LONG === '1' ? 40 * 60_000 : 60_000,
    projects: [
      {
        extends: true,
        test: { name: 'unit', include: ['tests/**/*.test.ts'], exclude: ['tests/browser/**', 'tests/field/**'] },
      },
      {
        extends: true,
        // Real browsers, one at a time, on a build made once.
        test: {
          name: 'field',
          include: ['tests/field/**/*.test.ts'],
          globalSetup: ['tests/field/build-once.ts'],
          fileParallelism: false,
          hookTimeout: 120_000,
        },
      },
    ],
  },
}))
