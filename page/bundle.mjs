// Bundles the page: node bundle.mjs [folder], by default the one gudgeon serves it from.
import { build } from "esbuild";
import { cp, mkdir, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const out = process.argv[2] ?? join(here, "..", "src", "gudgeon", "web", "static");

const made = `${out}.new`; // put in its place whole, for a workbench that is open meanwhile
await rm(made, { recursive: true, force: true });
await mkdir(made, { recursive: true });
await build({
  entryPoints: { page: join(here, "src", "main.ts"), look: join(here, "src", "look.css") },
  outdir: made,
  bundle: true,
  minify: true,
  splitting: true,
  chunkNames: "[name]-[hash]",
  format: "esm",
  target: ["es2022", "safari16"],
  legalComments: "linked",
  logLevel: "warning",
});
for (const name of ["index.html", "gudgeon.svg"]) await cp(join(here, "src", name), join(made, name));
await rm(out, { recursive: true, force: true });
await rename(made, out);
