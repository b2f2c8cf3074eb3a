import type { Metadata } from "next";
import { openPage } from "#lib/edge/page";
import { PointPage } from "../../point/point-page";

interface Props {
  params: Promise<{ project: string; line: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Point ${(await params).line}` };
}

export default async function Page({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { line } = await params;
  return <PointPage context={context} sheetId={context.project.id} line={line} justSent={"sent" in (await searchParams)} />;
}
