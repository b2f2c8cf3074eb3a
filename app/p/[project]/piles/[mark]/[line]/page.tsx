import type { Metadata } from "next";
import { getPile } from "#lib/db/pile";
import { found, openPage } from "#lib/edge/page";
import { PointPage } from "../../../point/point-page";

interface Props {
  params: Promise<{ project: string; mark: string; line: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const { mark, line } = await params;
  return { title: `${decodeURIComponent(mark)}, point ${line}` };
}

export default async function Page({ params, searchParams }: Props) {
  const context = await openPage(params);
  const { mark, line } = await params;
  const pile = await found(() => getPile(context.house.db.read, context.project.id, { mark: decodeURIComponent(mark) }));
  return <PointPage context={context} sheetId={pile.id} line={line} justSent={"sent" in (await searchParams)} />;
}
