/** Where a point is shown: on its pile's sheet, or on the project sheet for one without a pile. */
export function pointHref(project: string, mark: string | null, line: string): string {
  return mark === null ? `/p/${project}/sheet/${line}` : `/p/${project}/piles/${mark}/${line}`;
}
