import { defineConfig, type Plugin } from "vitest/config";

/**
 * The first paint waits for the script, so that red light never begins with a flash of white
 * paper. The page asks nothing of other origins, so that `crossorigin` says nothing.
 */
const paintLast: Plugin = {
  name: "paint-last",
  enforce: "post",
  transformIndexHtml(html) {
    return html
      .replace('<script type="module" crossorigin', '<script type="module" blocking="render"')
      .replace('<link rel="stylesheet" crossorigin', '<link rel="stylesheet"');
  },
};

export default defineConfig({
  plugins: [paintLast],
  build: {
    outDir: "dist",
    // Everything stands in a file of its own: the page's policy takes nothing from within it.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    cssCodeSplit: false,
    target: "es2023",
    // What draws in space comes late, and is large.
    chunkSizeWarningLimit: 600,
    rollupOptions: {
      output: {
        entryFileNames: "assets/page-[hash].js",
        assetFileNames: "assets/[name]-[hash][extname]",
      },
    },
  },
  test: {
    include: ["src/**/*.test.ts"],
  },
});
