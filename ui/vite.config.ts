// SPDX-License-Identifier: Apache-2.0
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

// `npm run dev` talks to a running `footring serve` when FOOTRING_URL names one, else to the small invented
// stand-in of mock/. Neither is part of the build.
const server = process.env['FOOTRING_URL'];

function standIn(): Plugin {
  return {
    name: 'footring-stand-in',
    apply: 'serve',
    async configureServer(vite) {
      if (server || process.env['VITEST']) return;
      const standIn = './mock/server.mjs'; // by name, so that a build never follows it
      const { answer } = await import(new URL(standIn, import.meta.url).href);
      vite.middlewares.use('/api', answer);
    },
  };
}

export default defineConfig({
  plugins: [svelte(), standIn()],
  server: server ? { proxy: { '/api': { target: server, changeOrigin: true } } } : {},
  // The server's content policy allows nothing but its own files: no data: fonts, no inline scripts.
  build: { assetsInlineLimit: 0, modulePreload: { polyfill: false }, target: 'es2022', chunkSizeWarningLimit: 700 },
});
