import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  // the address holds a key, so nothing may be asked from its root
  base: './',
  plugins: [svelte()],
  build: { chunkSizeWarningLimit: 700, target: 'es2023', modulePreload: { polyfill: false }, assetsInlineLimit: 0, reportCompressedSize: false },
  test: { include: ['src/**/*.test.ts'] },
})
