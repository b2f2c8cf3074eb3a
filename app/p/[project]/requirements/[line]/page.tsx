import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { requirementsView } from "#lib/services/requirements-view";
import { linesOfPoint } from "#lib/services/revision-draft";
import { openPage } from "#lib/edge/page";
import { PointsPage } from "../points-page";

interface Props {
  params: Promise<{ project: string; line: string }>;
  searchParams: Promise<{ revision?: string | string[]; open?: string | string[]; kept?: string | string[] }>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Requirements, point ${(await params).line}` };
}

export default async function RequirementPointPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { line } = await params;
  const { revision, open, kept } = await searchParams;
  const text = (value: string | string[] | undefined): string | null => (typeof value === "string" ? value : null);
  const view = await requirementsView(context.house.db.read, context.project, context.member, context.at, text(revision));
  if (!view.revision || linesOfPoint(view.revision, line).length === 0) notFound();
  return <PointsPage context={context} view={view} line={line} open={text(open)} kept={text(kept)} />;
}
