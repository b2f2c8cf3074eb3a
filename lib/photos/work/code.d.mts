interface Pixels {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number; readonly channels: 1 | 2 | 3 | 4 };
}

/** Every code of our own in a JPEG, PNG or WebP, without repeats. Rejects when it cannot be decoded. */
export function readFileCodes(path: string): Promise<string[]>;

/** The same for pixels that are decoded already. */
export function readPixelCodes(pixels: Pixels): Promise<string[]>;
