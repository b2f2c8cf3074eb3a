/** Where the reduced copy of a picture is, by the digest of its original; 320 px for lists, 1600 px for looking at one. */
export function renditionHref(project: string, sha256: string, px: 320 | 1600): string {
  return `/api/v1/projects/${project}/renditions/${px}/${sha256}`;
}
