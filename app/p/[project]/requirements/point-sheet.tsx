import type { PageContext } from "#lib/edge/page";
import { differingFacts, valuesOfLine } from "#lib/domain/requirement/draft-line";
import { isCustom } from "#lib/domain/requirement/draft";
import { valuesOfRow } from "#lib/domain/requirement/draft-quantity";
import type { FollowingSet } from "#lib/domain/requirement/follow";
import type { PlanLineSpec, Revision } from "#lib/domain/requirement/set";
import { pointIds, typeLabel, type PointRequirements, type RequirementRow, type RequirementsView } from "#lib/services/requirements-view";
import { PROJECT_SHEET } from "#lib/services/revision-draft";
import { FlagTriangle, KIND_WORDS, KindMark } from "../../../_ui/mark";
import { TableFrame } from "../../../_ui/table";
import { addOnePoint, keepLine, keepQuantity, takePointOut, takeQuantityOut } from "./actions";
import { LimitAxis } from "./limit-axis";
import { LineForm } from "./line-form";
import { QuantityForm, type QuantityOffers } from "./quantity-form";
import { AddPointForm, TakeOutForm } from "./small-forms";
import { Waits } from "./waits";

export interface Opened {
  /** Key of the quantity that is open, "new", or "point". */
  open: string | null;
  kept: string | null;
}

interface PointSheetProps extends Opened {
  context: PageContext;
  view: RequirementsView;
  revision: Revision;
  point: PointRequirements;
  href: string;
}

/** One point with every type side by side; the open quantity unfolds in its own row. */
export function PointSheet({ context, view, revision, point, href, open, kept }: PointSheetProps) {
  const first = point.lines[0]?.line;
  if (!first) return null;
  const at = { project: context.project.code, digest: view.digest, line: point.id };
  const offers = offersAt(revision, point);
  const following = followingSets(revision, view.base?.revision ?? null);
  const labels = Object.fromEntries(point.types.map((type) => [type, typeLabel(type)]));
  const columns = point.types.length + 5;
  return (
    <section className="requirement-point" aria-labelledby="point-name">
      <header className="point-head">
        <h2 id="point-name"><span className="num">{point.id}</span> <KindMark kind={first.kind} /> <span>{first.name}</span></h2>
        <p className="letter">{orderWords(first)}</p>
      </header>
      {kept && <p className="kept" role="status">Kept. A draft: it counts when the engineer has approved it.</p>}
      {point.faults.length > 0 && (
        <ul className="stop-list point-stops">{point.faults.map(({ type, message }) => <li key={`${type} ${message}`}><FlagTriangle n="!" hand="bad" /><span>{type && `Type ${type}: `}{message} It stops the review.</span></li>)}</ul>
      )}
      {point.lines.filter(({ line }) => line.notApplicable).map(({ type, line }) => <p key={type} className="letter">{typeLabel(type)}: does not apply. {line.notApplicable}</p>)}
      {first.register && <p className="letter">Judged from the register of {first.register}; nothing is submitted at it.</p>}
      {point.rows.length > 0 || open === "new" ? (
        <TableFrame label={`Quantities of point ${point.id}`}>
          <table className="table requirement-table">
            <caption className="hide">Quantities of point {point.id}, with the limit of each type</caption>
            <thead>
              <tr><th scope="col"><span className="hide">Row</span></th><th scope="col">Quantity</th><th scope="col">Rule</th>{point.types.map((type) => <th key={type} scope="col">{typeLabel(type)}</th>)}<th scope="col">Drawn</th><th scope="col">Measured with · photos</th></tr>
            </thead>
            <tbody>
              {point.rows.map((row) => (
                <Row key={row.key} row={row} point={point} letter={view.state?.letter ?? ""} href={view.editable ? `${href}?open=${encodeURIComponent(row.key)}#quantity` : null} open={open === row.key}>
                  {view.editable && open === row.key && (
                    <tr className="row-editor">
                      <td colSpan={columns}>
                        <QuantityForm
                          key={view.digest} action={keepQuantity.bind(null, { ...at, id: row.row.id, types: row.row.types })} line={point.id} values={valuesOfRow(row.row)} isNew={false} closeHref={href}
                          types={row.row.types.map((type) => ({ type, label: labels[type] ?? type, was: row.cells[type]?.was ?? null }))} before={row.row.of} offers={offers} following={following}
                        />
                        <TakeOutForm action={takeQuantityOut.bind(null, { ...at, id: row.row.id, types: row.row.types })} name="take-out" what={`Take “${row.row.name}” out`} />
                      </td>
                    </tr>
                  )}
                </Row>
              ))}
              {view.editable && open === "new" && (
                <tr className="row-editor row-new">
                  <td colSpan={columns}>
                    <QuantityForm
                      key={view.digest} action={keepQuantity.bind(null, { ...at, id: null, types: [] })} line={point.id} isNew closeHref={href} before={{}} offers={offers} following={following}
                      values={{ name: "", form: "min", inclusive: "true", many: "one", accuracyKind: "per cent", types: point.types.join(", ") }} types={point.types.map((type) => ({ type, label: labels[type] ?? type, was: null }))}
                    />
                  </td>
                </tr>
              )}
            </tbody>
          </table>
        </TableFrame>
      ) : (
        !first.register && <p className="letter">Nothing is measured or stated at this point yet.</p>
      )}
      <Parts first={first} />
      {view.editable && (
        <div className="button-row point-edits">
          {!first.register && <a className="button" href={`${href}?open=new#quantity`}>Add a quantity</a>}
          <a className="button" href={`${href}?open=point#point`}>Kind, order, waits, photos, roles</a>
        </div>
      )}
      {view.editable && open === "point" && (
        <div className="point-editor">
          <LineForm
            key={view.digest} action={keepLine.bind(null, at)} lines={point.lines} values={valuesOfLine(point.lines)} labels={labels} differing={differingFacts(point.lines)} points={offers.points} closeHref={href}
          />
        </div>
      )}
      <PointWaits view={view} revision={revision} point={point} />
      {view.editable && !point.id.startsWith("P") && (
        <div className="point-more">
          <AddPointForm action={addOnePoint.bind(null, { project: at.project, digest: at.digest, after: point.id })} after={point.id} types={point.types.map((type) => ({ type, label: labels[type] ?? type }))} />
          {isCustom(point.id) && <TakeOutForm action={takePointOut.bind(null, at)} name="take-point-out" what={`Take point ${point.id} out`} />}
        </div>
      )}
    </section>
  );
}

function Row({ row, point, letter, href, open, children }: { row: RequirementRow; point: PointRequirements; letter: string; href: string | null; open: boolean; children: React.ReactNode }) {
  const name = <>{row.row.name}{row.unit && <span className="row-unit">, {row.unit}</span>}</>;
  return (
    <>
      <tr className={open ? "row-open" : undefined}>
        <td className="row-letter"><b>{row.letter}</b></td>
        <th scope="row">{href ? <a href={href} aria-expanded={open}>{name}</a> : name}{row.row.of[row.row.types[0] ?? ""]?.hint && <small>{row.row.of[row.row.types[0] ?? ""]?.hint}</small>}</th>
        <td data-label="Rule">{row.form}</td>
        {point.types.map((type) => {
          const cell = row.cells[type];
          return (
            <td key={type} data-label={typeLabel(type)} className={cell && cell.words.length + (cell.was?.length ?? 0) < 16 ? "limit limit-short" : "limit"}>
              {cell ? <><b className="required num">{cell.words}</b>{cell.was !== null && <> <span className="replaced num">{cell.was === "new" ? "" : cell.was}</span><FlagTriangle n={letter} hand="held" /></>}</> : <span className="letter">–</span>}
            </td>
          );
        })}
        <td className="row-drawn" data-label="Drawn">{row.drawn ? <Axis row={row} /> : <span className="letter">{row.drawnWords}</span>}</td>
        <td data-label="Measured with">{row.measuredWith || "–"}</td>
      </tr>
      {children}
    </>
  );
}

/** Ranges that differ from type to type would lie over one another: they are said. */
function Axis({ row: { drawn, row } }: { row: RequirementRow }) {
  if (!drawn) return null;
  const both = drawn.limits.every(({ min, max }) => min !== null && max !== null);
  const same = drawn.limits.every(({ min, max }) => min === drawn.limits[0]?.min && max === drawn.limits[0]?.max);
  return both && !same ? <span className="letter">range about each</span> : <LimitAxis drawn={drawn} name={row.name} />;
}

/** What else belongs to the point, in one line each. */
function Parts({ first }: { first: PlanLineSpec }) {
  const { photos, lots, documents, submits, release, evidenceOnly, hiddenBy } = first;
  const facts: [string, string][] = [
    ["Photos", photos.map(({ name, count }) => `${name.toLowerCase()} × ${count}`).join(", ")],
    ["Lots", lots.map(({ name }) => name.toLowerCase()).join(", ")],
    ["Documents", documents.map(({ name, required }) => `${name.toLowerCase()}${required ? "" : ", if any"}`).join(", ")],
    ["Hidden by", hiddenBy.join(", ")],
    ["Submitted by", first.register ? "" : submits.join(" or ")],
    ["Released by", `${release.roles.join(release.all ? " and " : " or ")}${release.automatic ? ", by the system when every value meets" : ""}${release.whenFails.length > 0 ? `; when a value fails: ${release.whenFails.join(" or ")}` : ""}`],
    ["On evidence alone", evidenceOnly ? `allowed with ${evidenceOnly.photos} ${evidenceOnly.photos === 1 ? "photo" : "photos"} in order` : "never"],
  ];
  return <dl className="point-facts">{facts.filter(([, words]) => words !== "").map(([label, words]) => <div key={label}><dt>{label}</dt><dd>{words}</dd></div>)}</dl>;
}

function PointWaits({ view, revision, point }: { view: RequirementsView; revision: Revision; point: PointRequirements }) {
  const shown = point.lines.find(({ line }) => !line.notApplicable);
  if (!shown || shown.type === PROJECT_SHEET) return null;
  const set = revision.sets.find(({ type }) => type === shown.type);
  const before = view.base?.revision.sets.find(({ type }) => type === shown.type);
  return set ? <Waits lines={set.lines} before={before?.lines ?? []} line={point.id} type={`type ${set.type}`} letter={view.state?.letter ?? ""} /> : null;
}

function orderWords({ kind, after, submits, release, batch, register }: PlanLineSpec): string {
  const opens = after.length === 0 ? "stands on no other" : batch ? `opens when ${after.join(" and ")} ${after.length === 1 ? "is" : "are"} submitted with no value that fails, or released` : `stands on ${after.join(", ")}`;
  return [KIND_WORDS[kind], opens, register ? "" : `${submits.join(" or ")} submits, ${release.roles.join(release.all ? " and " : " or ")} releases`].filter(Boolean).join(" · ");
}

function offersAt(revision: Revision, point: PointRequirements): QuantityOffers {
  const ids = pointIds(revision).filter((id) => !id.startsWith("P"));
  const before = point.id.startsWith("P") ? [] : ids.slice(0, ids.indexOf(point.id));
  const nameOf = (id: string): string => revision.sets.flatMap(({ lines }) => lines).find(({ line }) => line === id)?.name ?? id;
  const unique = <T extends { value: string }>(list: readonly T[]): T[] => list.filter((one, index) => list.findIndex(({ value }) => value === one.value) === index);
  const own = point.lines.map(({ line }) => line);
  return {
    points: before.map((id) => ({ value: id, label: `${id} ${nameOf(id)}` })),
    quantities: unique(own.flatMap(({ quantities }) => quantities.map(({ id, name }) => ({ value: id, label: name })))),
    photos: unique(own.flatMap(({ photos }) => photos.map(({ id, name }) => ({ value: id, label: name })))),
    instruments: [...new Set(revision.sets.flatMap(({ lines }) => lines.flatMap(({ quantities }) => quantities.flatMap(({ instrument }) => instrument ?? []))))].sort(),
  };
}

/** Only what limits follow from goes to the page's scripts, with the limits of the revision before: what moves is said against those. */
function followingSets(revision: Revision, base: Revision | null): FollowingSet[] {
  return revision.sets.map(({ type, jacket, design, lines }) => {
    const before = base?.sets.find((one) => one.type === type)?.lines ?? [];
    const ruleBefore = (line: string, id: string) => before.find((one) => one.line === line)?.quantities.find((one) => one.id === id)?.rule;
    return {
      type, jacket, design,
      lines: lines.filter(({ quantities }) => quantities.some(({ follows }) => follows)).map((line) => ({
        ...line, quantities: line.quantities.filter(({ follows }) => follows).map((one) => ({ ...one, rule: ruleBefore(line.line, one.id) ?? one.rule })),
      })),
    };
  });
}
