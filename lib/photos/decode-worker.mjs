// Opens pictures in a process of its own, so that a file made to hang or to fill the memory costs this process and nothing else.
// Plain JavaScript on purpose: it is started from its file, by servers and commands that load their own code in different ways.
import { open } from "node:fs/promises";

import sharp from "sharp";

import { readExif } from "./read-exif.mjs";

/** @typedef {{ px: number, path: string }} RenditionJob */
/** @typedef {{ kind: "header", path: string, maxMetadataBytes: number }} HeaderJob */
/**
 * @typedef {{ kind: "decode", path: string, width: number, height: number, orientation: number, renditions: RenditionJob[] }}
 * DecodeJob
 */
/** @typedef {{ data: Buffer, info: { width: number, height: number, channels: 1 | 2 | 3 | 4 } }} Pixels */

/** Exit code that tells the parent why: more memory than allowed. */
const EXIT_MEMORY = 75;
const MEMORY_LIMIT_BYTES = Number(process.argv[2]);
const JPEG_QUALITY = 78;

// Two pictures at once in two processes are faster than two threads in one, and nothing is opened twice.
sharp.concurrency(1);
sharp.cache(false);
// Only these formats are opened, whatever the file says it is. HEIC is opened for its header alone.
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({ operation: ["VipsForeignLoadJpeg", "VipsForeignLoadPng", "VipsForeignLoadWebp", "VipsForeignLoadHeif"] });

// Decoding runs outside the event loop, so this timer keeps ticking while it does.
const memoryWatch = setInterval(() => {
  if (process.memoryUsage.rss() > MEMORY_LIMIT_BYTES) process.exit(EXIT_MEMORY);
}, 50);
memoryWatch.unref();

process.on("disconnect", () => process.exit());
process.on("message", (/** @type {{ id: number, job: HeaderJob | DecodeJob }} */ { id, job }) => {
  const work = job.kind === "header" ? readHeader(job) : decode(job);
  work.then(
    (answer) => process.send?.({ id, answer }),
    (error) => process.send?.({ id, failure: String(error) }),
  );
});

/** What the file says before any pixel is read. Answers null when it is no picture. @param {HeaderJob} job */
async function readHeader({ path, maxMetadataBytes }) {
  const metadata = await sharp(path, { failOn: "none", limitInputPixels: false }).metadata().catch(() => null);
  if (metadata === null) return null;

  const metadataBytes = (metadata.exif?.length ?? 0) + (metadata.xmp?.length ?? 0);
  const carried = metadataBytes <= maxMetadataBytes;
  const exif = (carried && metadata.exif) || null;
  return {
    format: metadata.format,
    width: metadata.width,
    height: metadata.height,
    metadataBytes,
    exif: exif && (await readExif(exif)),
    xmp: (carried && metadata.xmp) || null,
  };
}

/** Reads every pixel once and writes the renditions from that. @param {DecodeJob} job */
async function decode(job) {
  let damage = null;
  let pixels = await readPixels(job, "warning").catch((error) => {
    damage = complaintOf(error);
    return null;
  });
  // A damaged picture still shows something: what can be read is kept visible.
  pixels ??= await readPixels(job, "none").catch(() => null);
  const truncated = damage !== null && ((await lacksEnd(job.path)) || damage.includes("premature end of JPEG image"));
  if (pixels === null) return { damage, truncated, rendered: false };

  const upright = await turn(pixels, job.orientation);
  await Promise.all(job.renditions.map((rendition) => writeRendition(upright, rendition)));
  return { damage, truncated, rendered: true };
}

/** The decoder's own words, without the name of the part that says them. @param {Error} error */
function complaintOf(error) {
  const [first = ""] = error.message.split("\n");
  return first.replace(/^[A-Za-z0-9]+: /, "");
}

/**
 * The picture as it lies in the file, made to fit the largest rendition, never enlarged.
 * @param {DecodeJob} job
 * @param {"warning" | "none"} failOn
 * @returns {Promise<Pixels>}
 */
function readPixels({ path, width, height, renditions }, failOn) {
  const px = Math.max(...renditions.map((rendition) => rendition.px));
  return (
    sharp(path, { failOn, limitInputPixels: false, sequentialRead: true })
      // Cutting out the whole picture keeps the decoder from skipping detail while it shrinks: a skipped part hides its damage.
      .extract({ left: 0, top: 0, width, height })
      .resize(px, px, { fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .toColourspace("srgb")
      .raw({ depth: "uchar" })
      .toBuffer({ resolveWithObject: true })
  );
}

/**
 * Turns the picture upright by its orientation tag, 1–8. Done on the small picture: it has a tenth of the pixels.
 * @param {Pixels} pixels
 * @param {number} orientation
 * @returns {Promise<Pixels>}
 */
async function turn(pixels, orientation) {
  const mirrored = orientation === 2 || orientation === 4 || orientation === 5 || orientation === 7;
  const degrees = { 3: 180, 4: 180, 5: 270, 6: 90, 7: 90, 8: 270 }[orientation] ?? 0;
  if (!mirrored && degrees === 0) return pixels;

  // Mirrored first, then turned: in one go the order would not be ours to say.
  const straight = mirrored ? await fromPixels(pixels).flop().raw().toBuffer({ resolveWithObject: true }) : pixels;
  return degrees === 0 ? straight : fromPixels(straight).rotate(degrees).raw().toBuffer({ resolveWithObject: true });
}

/** @param {Pixels} pixels */
function fromPixels({ data, info }) {
  return sharp(data, { raw: { width: info.width, height: info.height, channels: info.channels } });
}

/**
 * Written to the disk before it is answered for. No metadata goes along.
 * @param {Pixels} pixels
 * @param {RenditionJob} rendition
 */
async function writeRendition(pixels, { px, path }) {
  const jpeg = await fromPixels(pixels).resize(px, px, { fit: "inside", withoutEnlargement: true }).jpeg({ quality: JPEG_QUALITY }).toBuffer();
  const file = await open(path, "wx");
  try {
    await file.writeFile(jpeg);
    await file.datasync();
  } finally {
    await file.close();
  }
}

/** True for a PNG without its end chunk or a WebP shorter than it says. @param {string} path */
async function lacksEnd(path) {
  const file = await open(path, "r");
  try {
    const { size } = await file.stat();
    const head = Buffer.alloc(12);
    const tail = Buffer.alloc(12);
    await file.read(head, 0, 12, 0);
    await file.read(tail, 0, 12, Math.max(0, size - 12));
    if (head.toString("latin1", 1, 4) === "PNG") return tail.toString("latin1", 4, 8) !== "IEND";
    if (head.toString("latin1", 8, 12) === "WEBP") return size < head.readUInt32LE(4) + 8;
    return false;
  } finally {
    await file.close();
  }
}
