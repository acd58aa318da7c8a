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

/** Texts of the library that go into every shader; of the others the bay has its own. */
const WANTED = new Set(["colorspace_pars_fragment", "tonemapping_pars_fragment"]);

/** The library that draws in space brings the texts of many materials along; none is drawn with, and they weigh much. */
const ownShaders: Plugin = {
  name: "own-shaders",
  apply: "build",
  transform(code, id) {
    if (!id.endsWith("/three.module.js")) {
      return null;
    }
    const end = code.indexOf("const ShaderChunk = {");
    const [texts, rest] = [code.slice(0, end), code.slice(end)];
    const bare = texts.replace(/^((?:var|const) ([\w$]+) = )".*";$/gm, (all, head: string, name: string) => (WANTED.has(name) ? all : `${head}"";`));
    if (end < 0 || bare.length > texts.length / 2) {
      throw new Error("three keeps its shaders elsewhere now");
    }
    return { code: bare + rest, map: null };
  },
};

export default defineConfig({
  plugins: [paintLast, ownShaders],
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
