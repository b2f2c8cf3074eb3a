"use client";

import { useCallback, useState, type ReactNode } from "react";
import { POINT_KINDS } from "#lib/domain/point/state";
import { readLine, rowsOf, type LinesOfPoint } from "#lib/domain/requirement/draft-line";
import type { Values } from "#lib/domain/requirement/draft-quantity";
import { ROLES } from "#lib/domain/requirement/set";
import { KIND_WORDS } from "../../../_ui/mark";
import type { FormAction } from "../action-form";
import { DraftChoice, DraftForm, DraftSelect, DraftText, useTexts, type DraftFields } from "./draft-form";

interface LineFormProps {
  action: FormAction;
  lines: LinesOfPoint;
  values: Values;
  labels: Readonly<Record<string, string>>;
  /** Facts that are not the same on all types. */
  differing: readonly string[];
  points: readonly { value: string; label: string }[];
  closeHref: string;
}

const options = (...values: string[]) => values.map((value) => ({ value, label: value }));
const ROLE_OPTIONS = ROLES.map((role) => ({ value: role, label: role }));

/** What a point is: kind, order, waits, photos, lots, who submits and who releases it. */
export function LineForm({ action, lines, values, labels, differing, points, closeHref }: LineFormProps) {
  const check = useCallback((typed: Values) => {
    const read = readLine(typed, lines);
    return "faults" in read ? read.faults : [];
  }, [lines]);
  const types = lines.map(({ type }) => type);
  return (
    <DraftForm action={action} name="point" label="The point" submit="Keep the point" values={values} check={check} beside={<a className="button" href={closeHref}>Close</a>}>
      {(fields) => (
        <>
          {differing.length > 0 && <p className="letter">Not the same on all types, and kept so until it is changed here: {differing.join(", ").toLowerCase()}.</p>}
          <Group title="Name and where it applies">
            {types.map((type) => (
              <div key={type} className="form-grid">
                <DraftText fields={fields} name={`name-${type}`} label={`${labels[type] ?? type}, name`} />
                <DraftText fields={fields} name={`notApplicable-${type}`} label={`${labels[type] ?? type}, does not apply because`} hint="Empty: it applies." />
              </div>
            ))}
          </Group>
          <Group title="Kind and order">
            <DraftChoice fields={fields} name="kind" legend="Kind" options={POINT_KINDS.map((kind) => ({ value: kind, label: `${kind}, ${KIND_WORDS[kind]}` }))} />
            <div className="form-grid">
              <DraftText fields={fields} name="after" label="Stands on" hint="Numbers of points, such as 11, 14." />
              <DraftText fields={fields} name="hiddenBy" label="Hidden by the work of" hint="Empty: nothing hides it." />
              <DraftText fields={fields} name="batch" label="Resin batch" hint="Points of one batch let each other begin." />
              <DraftSelect fields={fields} name="gate" label="Access check" options={options("is the gate", "under the gate", "free")} />
            </div>
          </Group>
          <Rows part="wait" title="Waits" start={values}>
            {(row) => (
              <>
                <DraftText fields={fields} name={`${row}-name`} label="Called" />
                <DraftSelect fields={fields} name={`${row}-kind`} label="Wait" options={options("at most", "at least")} />
                <DraftSelect fields={fields} name={`${row}-from`} label="from the end of" options={points} />
                <DraftSelect fields={fields} name={`${row}-until`} label="until this" options={[{ value: "began", label: "begins" }, { value: "released", label: "is released" }]} />
                {types.map((type) => <DraftText key={type} fields={fields} name={`${row}-hours-${type}`} label={`${labels[type] ?? type}, h`} inputMode="decimal" short />)}
              </>
            )}
          </Rows>
          <Rows part="photo" title="Photos" start={values}>
            {(row) => (
              <>
                <input type="hidden" defaultValue={fields.start[`${row}-id`] ?? ""} {...fields.register(`${row}-id`)} />
                <DraftText fields={fields} name={`${row}-name`} label="Subject" />
                <DraftSelect fields={fields} name={`${row}-window`} label="Taken" options={[{ value: "point", label: "while the point is open" }, { value: "since lift began", label: "since the lift began" }, { value: "last look", label: "as the last look" }]} />
                <DraftText fields={fields} name={`${row}-hint`} label="Hint" />
                {types.map((type) => <DraftText key={type} fields={fields} name={`${row}-count-${type}`} label={`${labels[type] ?? type}, photos`} inputMode="numeric" short />)}
              </>
            )}
          </Rows>
          <Rows part="lot" title="Lots" start={values}>
            {(row) => (
              <>
                <input type="hidden" defaultValue={fields.start[`${row}-id`] ?? ""} {...fields.register(`${row}-id`)} />
                <DraftText fields={fields} name={`${row}-name`} label="Used as" />
                <DraftText fields={fields} name={`${row}-kind`} label="Kind of lot" />
                <DraftChoice fields={fields} name={`${row}-types`} legend="On types" many options={types.map((type) => ({ value: type, label: labels[type] ?? type }))} />
              </>
            )}
          </Rows>
          <Rows part="document" title="Documents" start={values}>
            {(row) => (
              <>
                <input type="hidden" defaultValue={fields.start[`${row}-id`] ?? ""} {...fields.register(`${row}-id`)} />
                <DraftText fields={fields} name={`${row}-name`} label="Document" />
                <DraftSelect fields={fields} name={`${row}-required`} label="It" options={[{ value: "required", label: "has to be there" }, { value: "may", label: "may be there" }]} />
                <DraftChoice fields={fields} name={`${row}-types`} legend="On types" many options={types.map((type) => ({ value: type, label: labels[type] ?? type }))} />
              </>
            )}
          </Rows>
          <Group title="Who submits, who releases">
            <DraftChoice fields={fields} name="submits" legend="Submitted by" many options={ROLE_OPTIONS} />
            <DraftChoice fields={fields} name="releaseRoles" legend="Released by" many options={ROLE_OPTIONS} />
            <DraftChoice fields={fields} name="all" legend="Of these" options={[{ value: "one", label: "one is enough" }, { value: "all", label: "each has to decide" }]} />
            <DraftChoice fields={fields} name="automatic" legend="When every value meets" options={[{ value: "person", label: "a person releases it" }, { value: "automatic", label: "the system records the release" }]} />
            <DraftChoice fields={fields} name="whenFails" legend="When a value fails, decided by" many options={ROLE_OPTIONS} />
            <Evidence fields={fields} />
          </Group>
        </>
      )}
    </DraftForm>
  );
}

/** A release by somebody who was not there: never, or with so many photos in order. */
function Evidence({ fields }: { fields: DraftFields }) {
  const { evidence } = useTexts(fields);
  return (
    <div className="line-evidence">
      <DraftChoice fields={fields} name="evidence" legend="Release on evidence alone" options={[{ value: "never", label: "never" }, { value: "allowed", label: "allowed, with photos in order" }]} />
      {evidence === "allowed" && <DraftText fields={fields} name="evidencePhotos" label="at least so many photos" inputMode="numeric" short />}
    </div>
  );
}

function Group({ title, children }: { title: string; children: ReactNode }) {
  return <section className="line-group"><h3>{title}</h3>{children}</section>;
}

/** Rows of one part with an empty one at the end; a row without a name is taken out. */
function Rows({ part, title, start, children }: { part: string; title: string; start: Values; children: (row: string) => ReactNode }) {
  const there = rowsOf(start, part);
  const [more, setMore] = useState(0);
  const next = (there.at(-1) ?? -1) + 1;
  const rows = [...there, ...Array.from({ length: more }, (_, index) => next + index)];
  return (
    <Group title={title}>
      {rows.length === 0 && <p className="letter">None.</p>}
      {rows.map((index) => <div key={index} className="form-grid line-row">{children(`${part}-${index}`)}</div>)}
      {more === 0 && <noscript><div className="form-grid line-row">{children(`${part}-${next}`)}</div></noscript>}
      <p><button type="button" className="button button-quiet" onClick={() => setMore(more + 1)}>Add to {title.toLowerCase()}</button> <span className="letter">{rows.length > 0 && "An empty name takes a row out."}</span></p>
    </Group>
  );
}
