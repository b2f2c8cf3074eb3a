// The package ships no types. Only what is used here.
declare module "zip-stream" {
  import { Readable, Transform } from "node:stream";

  interface EntryData {
    name: string;
    date: Date;
    mode: number;
    store: boolean;
  }

  export default class ZipStream extends Transform {
    constructor(options?: { store?: boolean; comment?: string });
    entry(source: Buffer | Readable, data: EntryData, callback: (error: Error | null) => void): void;
    finalize(): void;
  }
}
