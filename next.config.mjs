/** @type {import("next").NextConfig} */
const config = {
  distDir: process.env.NEXT_DIST_DIR ?? ".next",
  images: { unoptimized: true },
  poweredByHeader: false,
  // Native code, workers, WebAssembly and font files are found beside their package, so these stay as they are installed.
  serverExternalPackages: [
    "@node-rs/argon2",
    "@prisma/adapter-better-sqlite3",
    "@prisma/client",
    "better-sqlite3",
    "canonicalize",
    "csv-stringify",
    "pdfkit",
    "sharp",
    "zip-stream",
  ],
  experimental: {
    authInterrupts: true, // forbidden(): a page that exists, for other roles
  },
};

export default config;
