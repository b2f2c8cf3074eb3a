import type { Metadata } from "next";
import { inUnit, shown, shownDigits, written, writtenDigits } from "#lib/domain/estimate/figure";
import { many } from "#lib/domain/many";
import { largestBatchKg } from "#lib/domain/estimate/resin";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import { openPage } from "#lib/edge/page";
import { estimateSearch, readEstimateQuery } from "#lib/edge/schema/estimate";
import { estimateLead, estimateView, type EstimateGroup, type EstimateView } from "#lib/services/estimate-view";
import { Block } from "../../../_ui/block";
import { Empty } from "../../../_ui/empty";
import { SheetHead } from "../../../_ui/sheet";
import { ReadAsTable } from "../../../_ui/table";
import { ProjectFrame } from "../project-frame";
import { projectSheets } from "../sheet/project-sheets";
import { BatchCurve, BatchTable, type BatchCurveProps } from "./batch-curve";
import { CutList } from "./cut-list";
import { headWords, LiftDrawing, TieBars } from "./lift-drawing";
import { OrderTable, QuantityTable } from "./quantity-table";
import { SelectionForm } from "./selection-form";
import { Working } from "./working";
import "./estimate.css";

export const metadata: Metadata = { title: "Estimate" };

interface EstimatePageProps {
  params: Promise<{ project: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function EstimatePage({ params, searchParams }: EstimatePageProps) {
  const context = await openPage(params);
  const { house, project, at } = context;
  const query = readEstimateQuery(toQuery(await searchParams));
  const view = await estimateView(house.db.read, project, at, query.selection);
  const { revision, piles, order } = view;
  const base = `/p/${project.code}/estimate`;
  const search = estimateSearch(query);
  return (
    <ProjectFrame context={context} sheet="Estimate" current="Project" revision={revision ?? undefined}>
      <SheetHead
        title="Estimate"
        lead={estimateLead(view)}
        note={revision ? `Arithmetic on revision ${revision.letter}. A competent person designs the ties and the lifts.` : undefined}
        subIndex={projectSheets(project.code, "Estimate")}
      />
      <div className="estimate-bar">
        <SelectionForm query={query} view={view} faults={[...query.faults, ...view.faults]} />
        <nav aria-label="Tables and print" className="button-row">
          <a className="button button-quiet" href={`/api/v1/projects/${project.code}/estimate/pdf${search}`}>PDF</a>
          <a className="button button-quiet" href={csvPath(project.code, search, "piles")}>CSV by pile</a>
          <a className="button button-quiet" href={csvPath(project.code, search, "cuts")}>CSV of cuts</a>
          <a className="button button-quiet" href={csvPath(project.code, search, "order")}>CSV of the order</a>
          <a className="button button-quiet" href={`${base}/checks`}>Checks</a>
        </nav>
      </div>
      {piles.length === 0 ? <Nothing view={view} base={base} /> : (
        <>
          <div className="estimate">
            <div className="stack">
              {order.sheets.map((sheet) => (
                <Block
                  key={`${sheet.rollLength.si} ${sheet.thickness.si}`}
                  title="Cut list"
                  note={`${many(sheet.pieces, "jacket")} · ${shownDigits(sheet.used, 1)} of ${shown(sheet.available, 0)} used, ${(sheet.share * 100).toFixed(1)} % · at least ${many(sheet.bound, "roll")}, ${sheet.rolls.length} found${sheet.best ? "" : ", not shown to be the fewest"} · one pile, one lot`}
                >
                  <div className="pad"><CutList sheet={sheet} /></div>
                </Block>
              ))}
              <QuantityTable view={view} />
              <Notes view={view} />
            </div>
            <div className="stack">
              {curvesOf(view.groups, query.selection.celsius).map((curve, i) => <ResinBlock key={i} curve={curve} view={view} />)}
              <LiftBlock groups={view.groups} />
            </div>
          </div>
          <div className="estimate-order">
            <Block title="Order list" note="with waste; bags and cartridges are rounded up pile by pile"><OrderTable lines={order.lines} /></Block>
            <Cautions />
          </div>
          <Block title="How it is worked out" note="unrounded inside; rounded only where it is shown"><div className="pad"><Working groups={view.groups} /></div></Block>
        </>
      )}
    </ProjectFrame>
  );
}

function toQuery(params: Record<string, string | string[] | undefined>): URLSearchParams {
  return new URLSearchParams(Object.entries(params).flatMap(([name, value]) => [value ?? []].flat().map((one): [string, string] => [name, one])));
}

function csvPath(code: string, search: string, table: string): string {
  return `/api/v1/projects/${code}/estimate/csv${search}${search ? "&" : "?"}table=${table}`;
}

function Nothing({ view: { leftOut, revision }, base }: { view: EstimateView; base: string }) {
  if (!revision) return <Empty thing="list" title="No requirement revision is approved yet.">Quantities follow from the design in a revision. The engineer approves one on the Requirements sheet.</Empty>;
  return (
    <Empty thing="pile" title="Nothing is left to count in this selection.">
      {leftOut.map(({ words, because }) => `${words}: ${because}. `)}
      <a href={`${base}?all=1`}>Count everything, done or not</a>
    </Empty>
  );
}

/** What stands apart: another revision, what is left out, what could not be worked out. */
function Notes({ view: { groups, leftOut, notWorkedOut, order, revision } }: { view: EstimateView }) {
  const apart = groups.filter(({ letter }) => letter !== revision?.letter);
  return (
    <div className="estimate-notes">
      <p className="letter">Length L = nπ(D + nt) + overlap. Only faces that touch a layer are coated. Each pile’s bags are rounded up.</p>
      {apart.map(({ markWords, letter, marks, estimate: { cut, resin } }) => (
        <p className="note-line hand-held" key={markWords}>
          {markWords} stand{marks.length === 1 ? "s" : ""} under revision {letter}{cut.known && `: length ${shown(cut.length)}`}{resin.known && `, resin ${shown(resin.mass)}`}.
        </p>
      ))}
      {leftOut.map(({ words, because }) => <p className="note-line" key={words + because}><b>{words}</b> {because}.</p>)}
      {order.uncut.map(({ mark, because }) => <p className="note-line hand-doubt" key={mark}><b>{mark}</b> {because}</p>)}
      {notWorkedOut.map(({ words, parts, because }) => <p className="note-line hand-doubt" key={words + because}><b>{words}</b> cannot tell {parts.join(", ").toLowerCase()}: {because}</p>)}
    </div>
  );
}

/** One curve for each way of spreading: most projects have one resin. */
function curvesOf(groups: readonly EstimateGroup[], at: number | null): (BatchCurveProps & { note: string; rate: string })[] {
  const kinds = new Map<string, EstimateGroup[]>();
  for (const group of groups) {
    if (!group.estimate.resin.known || group.toDo.wrap === 0) continue;
    const key = JSON.stringify(group.estimate.resin.spreading);
    kinds.set(key, [...(kinds.get(key) ?? []), group]);
  }
  return [...kinds.values()].flatMap((own) => {
    const { resin } = own[0]!.estimate;
    if (!resin.known) return [];
    const { spreading } = resin;
    const { life } = spreading;
    const temperatures = life.kind === "table" ? life.rows.map(({ celsius }) => Number(celsius)) : [10, 40];
    const [from, to] = [Math.max(Math.min(...temperatures), 5), Math.max(...temperatures)];
    const points = Array.from({ length: Math.round((to - from) * 2) + 1 }, (_, i) => from + i / 2).map((celsius) => ({ celsius, kg: largestBatchKg(celsius, spreading), minutes: potLifeMinutes(life, celsius) }));
    return [{
      points, capKg: spreading.capKg, at, lines: linesOf(own),
      note: life.kind === "table" ? "pot life from the data sheet’s table" : `${life.minutes} min at ${life.referenceC} °C, 1/${life.factor} for each 10 °C`,
      rate: `Spread ${spreading.rateKgPerMin} kg/min × ${spreading.usableShare} usable.`,
    }];
  });
}

/** One line for each type, by its heaviest jacket: two that differ by grams would lie on each other. */
function linesOf(groups: readonly EstimateGroup[]): BatchCurveProps["lines"] {
  const heaviest = new Map<string, BatchCurveProps["lines"][number]>();
  for (const { type, estimate: { resin } } of groups) {
    if (resin.known && resin.mass.si > (heaviest.get(type)?.kg ?? 0)) heaviest.set(type, { name: type, kg: resin.mass.si, oneTo: resin.oneBatchUpToC });
  }
  return [...heaviest.values()].sort((a, b) => b.kg - a.kg);
}

function ResinBlock({ curve, view: { groups, order } }: { curve: ReturnType<typeof curvesOf>[number]; view: EstimateView }) {
  const nameOf = (type: string): string => groups.find((group) => group.type === type)?.name ?? type;
  const told = curve.lines.filter(({ oneTo }) => oneTo !== null && oneTo <= (curve.points.at(-1)?.celsius ?? 0)).sort((a, b) => (a.oneTo ?? 0) - (b.oneTo ?? 0));
  return (
    <Block title="Resin batch and pot life" note={curve.note}>
      <div className="pad drawing-and-words">
        <BatchCurve {...curve} />
        <div className="stack words">
          {told.map(({ name, oneTo }) => <p key={name}><b>Above {oneTo?.toFixed(1)} °C</b> ({shown({ si: (oneTo ?? 0) + 273.15, unit: "°F" })}) a jacket of type {name}, {nameOf(name)}, takes two batches.</p>)}
          {curve.at !== null && <p><b>At {curve.at.toFixed(1)} °C</b>: {order.resin.batches === null ? order.resin.because : many(order.resin.batches, "batch", "batches")}.</p>}
          <p className="letter">{curve.rate} Leave no mixed mass in the bucket: it heats up and may smoke or burn. Epoxy sensitises skin.</p>
        </div>
      </div>
      <div className="pad"><BatchTable {...curve} /></div>
    </Block>
  );
}

function LiftBlock({ groups }: { groups: readonly EstimateGroup[] }) {
  const grouted = onePerType(groups);
  const [worst] = [...grouted].sort((a, b) => sealOf(b) - sealOf(a));
  if (!worst?.estimate.head.known) return null;
  const { head, grout } = worst.estimate;
  const tied = [...grouted].sort((a, b) => tieOf(b) - tieOf(a))[0];
  const ties = tied?.estimate.ties;
  const cannot = ties?.known ? ties.rows.filter(({ carries }) => !carries) : [];
  return (
    <Block title="Lifts, head and ties" note={<><span className="figures">{written(head.density)}</span>, pressure of all grout not yet set</>}>
      <div className="pad drawing-and-words lifts">
        <div className="lift-row">{grouted.map(({ type, estimate }) => estimate.grout.known && <LiftDrawing key={type} type={type} grout={estimate.grout} />)}</div>
        <div className="stack words">
          <p><b>{grout.known && written(grout.height)} at once: {headWords(head.atOnce)}</b> on the seal of type {worst.type}.</p>
          <p><b>{written(head.firstLift.head)}: {headWords(head.firstLift)}.</b> Set it before lift 2: {head.setHours} h.</p>
          <p className="letter">
            Sea water as high outside takes it down to {shown(head.atOnce.pressureUnderWater)}. Cured jacket at {written(head.most.head)} head: {head.most.hoopStress && `hoop stress ${shown(head.most.hoopStress, 0)}, `}{shown(head.most.hoopPerInch)} per in.
          </p>
        </div>
      </div>
      {tied && ties?.known && (
        <div className="pad drawing-and-words tie-part">
          <TieBars type={tied.type} ties={ties} />
          <p className="words">
            <b>{cannot.length === 0 ? "Ties carry every lift" : cannot.length === ties.rows.length ? "Ties carry no lift" : `Ties carry up to ${shown(ties.headLimit, 1)}`}</b> on a {tied.type} jacket that is not cured. Spacing {written(ties.spacing)}.{cannot.length > 0 && " Cure it before the next lift."}
          </p>
        </div>
      )}
      <div className="pad">
        <ReadAsTable
          caption="Lifts, heads and ties"
          columns={["Type", "Lifts, in", "At once, on the seal", "First lift", "Highest lift", "Tie carries up to", "Bottom tie at the highest lift"]}
          rows={grouted.map(({ type, estimate: { grout: own, head: ownHead, ties: ownTies } }) => {
            const last = ownTies.known ? ownTies.rows.at(-1) : undefined;
            return [
              type, own.known ? own.lifts.map(({ height }) => writtenDigits(height)).join(" + ") : "", ownHead.known ? headWords(ownHead.atOnce) : "cannot tell", ownHead.known ? headWords(ownHead.firstLift) : "cannot tell",
              ownHead.known ? headWords(ownHead.nextLift) : "cannot tell", ownTies.known ? shown(ownTies.headLimit, 1) : "cannot tell", ownTies.known && last ? `${shown(last.load, 1)} of ${shown(ownTies.allowed, 0)} allowed` : "cannot tell",
            ];
          })}
        />
      </div>
    </Block>
  );
}

function onePerType(groups: readonly EstimateGroup[]): EstimateGroup[] {
  const seen = new Set<string>();
  return groups.filter(({ type, estimate: { grout } }) => {
    const key = grout.known ? `${type} ${grout.lifts.map(({ height }) => inUnit(height).toFixed(3)).join()}` : "";
    if (key === "" || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

const sealOf = ({ estimate: { head } }: EstimateGroup): number => (head.known ? head.atOnce.sealForce.si : 0);
const tieOf = ({ estimate: { ties } }: EstimateGroup): number => (ties.known ? (ties.rows.at(-1)?.load.si ?? 0) / ties.allowed.si : 0);

function Cautions() {
  return (
    <Block title="Mind">
      <ul className="pad cautions">
        <li>Arithmetic on entered data, not a design. A licensed engineer decides on loads; temporary works are designed by a competent person.</li>
        <li>Heavy wet grout: pressure on seal and jacket, ties under tension. Stand clear of ties that are cut.</li>
        <li>Do not mix more than the data sheet’s batch. Spread it, no closed lid. A data sheet always wins over a rule of thumb.</li>
        <li>Fresh grout is caustic: eyes and skin. What goes into the water needs a permit.</li>
        <li>Lines marked common practice need the project’s confirmation.</li>
      </ul>
    </Block>
  );
}
