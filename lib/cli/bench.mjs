// npm run bench: measures beside the bare work it is made of, and ends with 1 when a ratio is past its limit.
import { build, enter, install, alone, runTs } from "./prepare.mjs";
import process from "node:process";

enter();
alone(() => {
  install();
  build();
});
const named = process.argv.slice(2);
const all = ["intake", "look-alike-search"];
process.exitCode = (named.length > 0 ? named : all).map((name) => runTs(`tests/bench/${name}.ts`)).some((code) => code !== 0) ? 1 : 0;
