// SPDX-License-Identifier: Apache-2.0
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

// `npm run dev` shows the pages over a program that runs: footring serve --demo, or the one that FOOTRING_URL names.
// The program answers only pages of its own address, so the proxy speaks in its name.
const program = process.env['FOOTRING_URL'] ?? 'http://127.0.0.1:8377';

export default defineConfig({
  plugins: [svelte()],
  server: { proxy: { '/api': { target: program, changeOrigin: true, headers: { origin: program } } } },
  // The server's content policy allows nothing but its own files: no data: fonts, no inline scripts.
  build: { assetsInlineLimit: 0, modulePreload: { polyfill: false }, target: 'es2022', chunkSizeWarningLimit: 700 },
});
