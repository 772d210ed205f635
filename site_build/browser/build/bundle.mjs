// Bundles one script of the browser's part into one classic script: nothing is left to import.

import { orders } from "./python.mjs";
import { build } from "esbuild";

const { entry, target, defines = {} } = orders();
await build({
  entryPoints: [entry],
  outfile: target,
  bundle: true,
  format: "iife",
  platform: "browser",
  target: ["es2022"],
  minify: true,
  legalComments: "none",
  charset: "ascii",
  logLevel: "warning",
  external: ["node:*", "ws"],
  define: Object.fromEntries(Object.entries(defines).map(([name, value]) => [name, JSON.stringify(value)])),
});
