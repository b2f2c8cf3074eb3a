/** The sheet of the cameras with one of them open. */
export function cameraHref(project: string, camera: string): string {
  return `/p/${project}/cameras?camera=${encodeURIComponent(camera)}`;
}
