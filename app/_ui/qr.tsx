import { encode } from "uqr";

/** Modules of empty margin around a code. Source: ISO/IEC 18004, quiet zone (from memory). */
const QUIET = 4;

/** A QR code as a drawing, black on white in every theme, since a camera has to read it. `label` says what it is. */
export function Qr({ text, label, size, correction = "Q" }: { text: string; label: string; size: number | string; correction?: "M" | "Q" | "H" }) {
  const { data, size: side } = encode(text, { ecc: correction, border: QUIET });
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join("");
  return (
    <svg className="qr" viewBox={`0 0 ${side} ${side}`} width={size} height={size} role="img" aria-label={label} shapeRendering="crispEdges">
      <rect className="qr-paper" width={side} height={side} />
      <path className="qr-ink" d={path} />
    </svg>
  );
}
