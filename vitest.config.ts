import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    isolate: false, // no test changes a module: what one file has loaded serves the next
    testTimeout: 20_000,
    hookTimeout: 60_000,
  },
});
