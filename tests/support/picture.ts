import sharp from "sharp";

/**
 * A picture with the large shapes of a real one, unlike that of any other number: light and dark patches that flow into
 * each other.
 *
 * @param number Whole, from 0.
 */
export async function pictureOf(number: number, width = 320, height = 240): Promise<Buffer> {
  let state = (number + 1) * 2_654_435_761;
  // A small generator of its own, so that the same number is the same picture on every machine. Source: Marsaglia's xorshift.
  const next = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % 256;
  };
  const patches = Buffer.from(Array.from({ length: 12 * 9 * 3 }, next));
  return sharp(patches, { raw: { width: 12, height: 9, channels: 3 } }).resize(width, height, { fit: "fill", kernel: "cubic" }).jpeg({ quality: 85 }).toBuffer();
}
