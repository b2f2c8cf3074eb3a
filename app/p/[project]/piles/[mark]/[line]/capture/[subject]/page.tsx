import type { Metadata } from "next";
import { getPile } from "#lib/db/pile";
import { found, openPage } from "#lib/edge/page";
import { CapturePage } from "../../../../../point/capture/capture-page";

interface Props {
  params: Promise<{ project: string; mark: string; line: string; subject: string }>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const { mark, line } = await params;
  return { title: `Photos of ${decodeURIComponent(mark)}, point ${line}` };
}

export default async function Page({ params }: Props) {
  const context = await openPage(params, "write draft");
  const { mark, line, subject } = await params;
  const pile = await found(() => getPile(context.house.db.read, context.project.id, { mark: decodeURIComponent(mark) }));
  return <CapturePage context={context} sheetId={pile.id} line={line} subject={decodeURIComponent(subject)} />;
}
