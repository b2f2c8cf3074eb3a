/** The sheets of the clocks and what feeds them, as a framed row at the head of each. */
export function clockSheets(project: string, current: "Clocks" | "Tides" | "Weather" | "Calendar" | "Cameras") {
  const base = `/p/${project}/clocks`;
  return [
    { label: "Clocks", href: base },
    { label: "Tides", href: `${base}/tides` },
    { label: "Weather", href: `${base}/weather` },
    { label: "Calendar", href: `${base}/calendar` },
    { label: "Cameras", href: `/p/${project}/cameras` },
  ].map((entry) => ({ ...entry, current: entry.label === current }));
}
