/** The sheets of the project's own part, as a framed row at the head of each. */
export function projectSheets(project: string, current: "Project sheet" | "Import" | "Estimate" | "People" | "Pile tags" | "Photo limits") {
  return [
    { label: "Project sheet", href: `/p/${project}/sheet` },
    { label: "Import", href: `/p/${project}/import` },
    { label: "Estimate", href: `/p/${project}/estimate` },
    { label: "People", href: `/p/${project}/people` },
    { label: "Pile tags", href: `/p/${project}/tags` },
    { label: "Photo limits", href: `/p/${project}/photo-limits` },
  ].map((entry) => ({ ...entry, current: entry.label === current }));
}
