/** The sheets of the project's own part, as a framed row at the head of each. */
export function projectSheets(project: string, current: "Project sheet" | "People") {
  return [
    { label: "Project sheet", href: `/p/${project}/sheet` },
    { label: "People", href: `/p/${project}/people` },
  ].map((entry) => ({ ...entry, current: entry.label === current }));
}
