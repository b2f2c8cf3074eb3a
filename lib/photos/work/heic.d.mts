interface Pixels {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number; readonly channels: 1 | 2 | 3 | 4 };
}

/** The pixels of a HEIC, upright, made to fit the longest side. Rejects when it cannot be decoded. */
export function readHeicPixels(path: string, how: { readonly px: number }): Promise<Pixels>;
