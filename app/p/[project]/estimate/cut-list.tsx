import { shown, shownDigits } from "#lib/domain/estimate/figure";
import type { CutRoll, CutSheet } from "#lib/domain/estimate/order-list";
import { ReadAsTable } from "../../../_ui/table";

/** The drawing's own width; the roll's name stands left of the roll, what is left of it right. */
const WIDTH = 728;
const LEFT = 56;
const RIGHT = 62;
/** Rolls above this number stand closer. */
const MANY_ROLLS = 9;

/** Rolls with the jackets cut from them, at one scale along and across; offcut is hatched. On a phone, a list with a bar for each roll. */
export function CutList({ sheet }: { sheet: CutSheet }) {
  const { rolls, rollLength, rollWidth } = sheet;
  return (
    <div className="cut-list">
      <p className="letter">Rolls {shownDigits(rollLength, 0)} × {shown(rollWidth, 0)}, {shown(sheet.thickness, 3)} thick. {heightWords(sheet)} Hatched is offcut.</p>
      <RollDrawing sheet={sheet} />
      <ol className="cut-phone" aria-hidden="true">{rolls.map((roll) => <PhoneRoll key={roll.number} roll={roll} sheet={sheet} />)}</ol>
      <ReadAsTable
        caption="Cut list"
        columns={["Roll", "Lot", "Pile", `Length, ${rollLength.unit}`, `Height, ${rollWidth.unit}`, `Left of the roll, ${rollLength.unit}`]}
        rows={rolls.flatMap(({ number, lot, pieces, left }) => pieces.map(({ mark, length, height }, i) => [
          `${number}`, lot ?? "any one lot", mark, shownDigits(length), shownDigits(height, 1), i === pieces.length - 1 ? shownDigits(left, 1) : "",
        ]))}
      />
    </div>
  );
}

function heightWords({ rolls }: CutSheet): string {
  const heights = new Map(rolls.flatMap(({ pieces }) => pieces.map(({ type, height }) => [type, shownDigits(height, 0)] as const)));
  const words = [...heights].map(([type, height], i) => (i === 0 ? `${type} pieces ${height} high` : `${type} ${height}`));
  return `${words.join(", ")}.`;
}

function RollDrawing({ sheet: { rolls, rollLength, rollWidth } }: { sheet: CutSheet }) {
  const scale = (WIDTH - LEFT - RIGHT) / rollLength.si;
  const deep = rollWidth.si * scale;
  const pitch = deep + (rolls.length > MANY_ROLLS ? 4 : 8);
  const end = LEFT + rollLength.si * scale;
  return (
    <svg className="drawing cut-desk" viewBox={`0 0 ${WIDTH} ${18 + rolls.length * pitch}`} width={WIDTH} role="img" aria-label={rollSentence(rolls)}>
      <text className="soft" x={end} y="11" textAnchor="middle">{shownDigits(rollLength, 0)}</text>
      <path className="hair" d={`M${end} 14V18`} />
      {rolls.map((roll, row) => {
        const top = 18 + row * pitch;
        const middle = top + deep / 2 + 4.5;
        return (
          <g key={roll.number}>
            <text className="vb" x="0" y={roll.lot ? middle - 6 : middle}>roll {roll.number}</text>
            {roll.lot && <text className="soft" x="0" y={middle + 9}>{roll.lot}</text>}
            <rect className="thin offcut" x={LEFT} y={top} width={rollLength.si * scale} height={deep} />
            {roll.pieces.map(({ mark, length, height, from, across }) => {
              const [x, y, wide, high] = [LEFT + from * scale, top + across * scale, length.si * scale, height.si * scale];
              return (
                <g key={mark}>
                  <rect className="cut-piece" x={x} y={y} width={wide} height={high} />
                  <text className="vb" x={x + 8} y={y + high / 2 + 4.5}>{mark}</text>
                  {wide > 92 && <text x={x + wide - 8} y={y + high / 2 + 4.5} textAnchor="end">{shownDigits(length, 1)}</text>}
                </g>
              );
            })}
            <text className="soft" x={end + 6} y={middle}>{shownDigits(roll.left, 0)} left</text>
          </g>
        );
      })}
    </svg>
  );
}

/** The finding for who does not see the drawing: rolls that are cut alike are told together. */
function rollSentence(rolls: readonly CutRoll[]): string {
  const alike = new Map<string, CutRoll[]>();
  for (const roll of rolls) {
    const key = roll.pieces.map(({ type, length }) => `${type} ${shown(length)}`).join(", ");
    alike.set(key, [...(alike.get(key) ?? []), roll]);
  }
  const told = [...alike].map(([pieces, own]) => `roll${own.length === 1 ? "" : "s"} ${own.map(({ number }) => number).join(", ")}: ${pieces}; ${shown(own[0]!.left, 0)} left`);
  return `Cut list on ${rolls.length} roll${rolls.length === 1 ? "" : "s"}. ${told.join(". ")}.`;
}

function PhoneRoll({ roll: { number, lot, pieces, left }, sheet: { rollLength, rollWidth } }: { roll: CutRoll; sheet: CutSheet }) {
  const along = (metres: number): string => `${((metres / rollLength.si) * 100).toFixed(2)}%`;
  const across = (metres: number): string => `${((metres / rollWidth.si) * 100).toFixed(2)}%`;
  return (
    <li>
      <p><b>Roll {number}</b>{lot && `, lot ${lot}`}, {shown(left, 0)} left</p>
      <svg className="fluid" height="30">
        <rect className="thin offcut" x="0" y="0" width="100%" height="100%" />
        {pieces.map(({ mark, length, height, from, across: down }) => <rect key={mark} className="cut-piece" x={along(from)} y={across(down)} width={along(length.si)} height={across(height.si)} />)}
      </svg>
      <p className="num">{pieces.map(({ mark, length }) => `${mark}\u00a0${shownDigits(length, 2)}`).join(" · ")} {rollLength.unit}</p>
    </li>
  );
}
