/** Where a point is shown: on its pile's sheet, or on the project sheet for one without a pile. */
export function pointHref(project: string, mark: string | null, line: string): string {
  return mark === null ? `/p/${project}/sheet/${line}` : `/p/${project}/piles/${mark}/${line}`;
}

/** Where the photos of one subject of a point are taken. */
export function captureHref(project: string, mark: string | null, line: string, subject: string): string {
  return `${pointHref(project, mark, line)}/capture/${encodeURIComponent(subject)}`;
}
