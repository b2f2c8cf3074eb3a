import { readdirSync, readFileSync } from "node:fs";

/** Clock ticks a second in /proc; fixed at 100 on Linux. Source: proc(5). */
const TICKS_PER_SECOND = 100;

function read(pid: number, file: string): string | null {
  try {
    return readFileSync(`/proc/${pid}/${file}`, "utf8");
  } catch {
    return null; // it has ended meanwhile
  }
}

/** Fields of /proc/PID/stat behind the name, which may hold blanks: state is the first. */
function stat(pid: number): string[] {
  return read(pid, "stat")?.replace(/^.*\) /, "").split(" ") ?? [];
}

/** A process and all below it. */
export function tree(root: number): number[] {
  const parents = new Map<number, number[]>();
  for (const name of readdirSync("/proc").filter((one) => /^\d+$/.test(one))) {
    const parent = Number(stat(Number(name))[1]);
    parents.set(parent, [...(parents.get(parent) ?? []), Number(name)]);
  }
  const below = (pid: number): number[] => [pid, ...(parents.get(pid) ?? []).flatMap(below)];
  return below(root);
}

/** Whether a process gives way to all others: what nobody waits for runs in those. */
const givesWay = (pid: number): boolean => Number(stat(pid)[16]) === 19;

/** CPU time that a process and all below it have used, milliseconds: of those somebody waits for, or of the others. */
export function cpuMs(root: number, which: "waited for" | "giving way"): number {
  return tree(root).filter((pid) => givesWay(pid) === (which === "giving way")).reduce((sum, pid) => {
    const ticks = [11, 12].reduce((all, field) => all + Number(stat(pid)[field] ?? 0), 0);
    return sum + (ticks / TICKS_PER_SECOND) * 1000;
  }, 0);
}

/** Resident memory of one process, MB. */
export function residentMb(pid: number): number {
  return Number(/VmRSS:\s+(\d+) kB/.exec(read(pid, "status") ?? "")?.[1] ?? 0) / 1024;
}
