/** "1 photo", "4 photos", "2 batches": a count with its word. */
export function many(count: number, one: string, more = `${one}s`): string {
  return `${count} ${count === 1 ? one : more}`;
}
