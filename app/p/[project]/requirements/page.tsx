import type { Metadata } from "next";
import { requirementsView } from "#lib/services/requirements-view";
import { openPage } from "#lib/edge/page";
import { PointsPage } from "./points-page";

export const metadata: Metadata = { title: "Requirements" };

interface Props {
  params: Promise<{ project: string }>;
  searchParams: Promise<{ revision?: string | string[] }>;
}

export default async function RequirementsPage({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { revision } = await searchParams;
  const view = await requirementsView(context.house.db.read, context.project, context.member, context.at, typeof revision === "string" ? revision : null);
  return <PointsPage context={context} view={view} line={null} open={null} kept={null} />;
}
