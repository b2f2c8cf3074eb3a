/** The 64 bits of a hash as 8 × 8 cells; those that differ from the other's are ringed. */
export function HashCells({ cells, differing, name }: { cells: readonly boolean[]; differing: readonly number[]; name: string }) {
  return (
    <figure className="hash">
      <svg viewBox="-0.2 -0.2 8.4 8.4" width="86" height="86" role="img" aria-label={`Hash of ${name}, ${differing.length} cells differ`}>
        <rect className="hash-frame" width="8" height="8" />
        {cells.map((dark, cell) => dark && <rect key={cell} className="hash-ink" x={cell % 8} y={Math.trunc(cell / 8)} width="1" height="1" />)}
        {differing.map((cell) => <rect key={cell} className="hash-ring" x={(cell % 8) + 0.12} y={Math.trunc(cell / 8) + 0.12} width="0.76" height="0.76" />)}
      </svg>
      <figcaption className="letter">{name}</figcaption>
    </figure>
  );
}
