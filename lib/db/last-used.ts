/** Values by their keys, of which so many are kept: those that were asked for or set last. */
export class LastUsed<Value> {
  readonly #kept = new Map<string, Value>();

  constructor(readonly most: number) {}

  get(key: string): Value | undefined {
    const value = this.#kept.get(key);
    if (value !== undefined) this.set(key, value);
    return value;
  }

  set(key: string, value: Value): void {
    this.#kept.delete(key);
    this.#kept.set(key, value);
    const [oldest] = this.#kept.keys();
    if (this.#kept.size > this.most && oldest !== undefined) this.#kept.delete(oldest);
  }
}
