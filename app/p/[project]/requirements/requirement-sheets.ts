/** The sheets of the requirements, as a framed row at the head of each. */
export function requirementSheets(project: string, current: "Points" | "Design and data sheets" | "File" | "Difference") {
  const base = `/p/${project}/requirements`;
  return [
    { label: "Points", href: base },
    { label: "Design and data sheets", href: `${base}/design` },
    { label: "File", href: `${base}/file` },
    { label: "Difference", href: `${base}/difference` },
  ].map((entry) => ({ ...entry, current: entry.label === current }));
}
