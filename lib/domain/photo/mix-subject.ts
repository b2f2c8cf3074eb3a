/** Where a resin batch is mixed, and the photo of it that is to show no streaks. Source: the catalogue of points. */
const MIX = { line: "13", subject: "mix" } as const;

/** Whether photos of a subject show a mix that can be checked for streaks. */
export function isMixSubject(line: string, subject: string): boolean {
  return line === MIX.line && subject === MIX.subject;
}
