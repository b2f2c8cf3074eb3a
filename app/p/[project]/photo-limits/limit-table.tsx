import type { ReactNode } from "react";
import type { PhotoLimitRow, PhotoLimitsView } from "#lib/services/photo-limits-view";

/** Limits by what they are about. `value` draws the value or the field for it. */
export function LimitTables({ groups, value }: { groups: PhotoLimitsView["groups"]; value: (limit: PhotoLimitRow) => ReactNode }) {
  return groups.map(({ title, limits }) => (
    <section key={title} className="limit-group" aria-label={title}>
      <h2>{title}</h2>
      <ul>
        {limits.map((limit) => (
          <li key={limit.name} className="limit">
            <div className="limit-value">{value(limit)}</div>
            <div className="limit-words">
              <p>{limit.words}</p>
              <p className="letter num">{limit.value === limit.normal ? "at its default" : <span className="required">default {limit.normal} {limit.unit}</span>}, may be {limit.least} to {limit.most} {limit.unit}</p>
            </div>
          </li>
        ))}
      </ul>
    </section>
  ));
}
