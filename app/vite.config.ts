import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

// Nothing is inlined: the server's content-security policy lets in only files of its own.
export default defineConfig({
  plugins: [svelte()],
  build: {
    target: "es2023",
    assetsInlineLimit: 0,
    // three, which is loaded only when the room is looked at in 3-D
    chunkSizeWarningLimit: 700,
    modulePreload: { polyfill: false },
  },
});
