import type { Metadata } from "next";
import { openPage } from "#lib/edge/page";
import { CapturePage } from "../../../../point/capture/capture-page";

interface Props {
  params: Promise<{ project: string; line: string; subject: string }>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Photos of point ${(await params).line}` };
}

export default async function Page({ params }: Props) {
  const context = await openPage(params, "write draft");
  const { line, subject } = await params;
  return <CapturePage context={context} sheetId={context.project.id} line={line} subject={decodeURIComponent(subject)} />;
}
