/** Grades that one standard sets in an order, from least to most. */
export interface GradeChain {
  name: string;
  grades: readonly string[];
  source: string;
  /** What no grade says, and a person who compares them has to know. */
  note: string;
}

/**
 * Published scales of surface preparation, offered where a requirement is written. The requirement's own chains decide: a scale that is not taken into
 * it compares nothing. Scales of two standards are kept apart, since grades that pages call equal are not: SP 6 leaves stains only and is stricter than
 * Sa 2, and SP 11 and SP 15 have no grade in ISO 8501-1. An engineer who accepts one for the other writes a chain that says so.
 */
export const GRADE_CHAINS: readonly GradeChain[] = [
  {
    name: "Steel, blast-cleaned (ISO)", grades: ["Sa 1", "Sa 2", "Sa 2½", "Sa 3"], source: "ISO 8501-1:2007 (read in pages that compare grades)",
    note: "SP 6 is not Sa 2: it leaves stains only, and is stricter.",
  },
  {
    name: "Steel, hand or power tools (ISO)", grades: ["St 2", "St 3"], source: "ISO 8501-1:2007 (read in pages that compare grades)",
    note: "No tool grade is on one scale with a blast grade.",
  },
  {
    name: "Steel, blast-cleaned (SSPC/NACE)", grades: ["SP 7", "SP 14", "SP 6", "SP 10", "SP 5"], source: "SSPC-SP 5, 6, 7, 10 and 14 (read in pages that compare grades; SP 14 from memory)",
    note: "SP 6 is not Sa 2: it leaves stains only, and is stricter.",
  },
  {
    name: "Steel, hand or power tools (SSPC)", grades: ["SP 2", "SP 3", "SP 15", "SP 11"], source: "SSPC-SP 2, 3, 11 and 15 (read in pages that compare grades; their order is judgement)",
    note: "SP 15 and SP 11 have no grade in ISO 8501-1, and none of these is on one scale with a blast grade.",
  },
  {
    name: "Concrete profile (ICRI)", grades: ["CSP 1", "CSP 2", "CSP 3", "CSP 4", "CSP 5", "CSP 6", "CSP 7", "CSP 8", "CSP 9", "CSP 10"], source: "ICRI 310.2R-2013 (read)",
    note: "Rougher is not always better: a profile may need an upper limit as well.",
  },
];

/**
 * The published scales that hold a grade as a person types it, with case, spaces and the "SSPC-" before it left aside. None for a grade that no scale
 * holds: nothing can then be proposed, and nothing is guessed.
 */
export function chainsWith(grade: string): GradeChain[] {
  return GRADE_CHAINS.filter(({ grades }) => grades.some((one) => folded(one) === folded(grade)));
}

/** "SSPC-SP 10", "sp10" and "Sa 2 1/2" are the grades that the table writes SP 10 and Sa 2½. */
function folded(grade: string): string {
  return grade.normalize("NFKC").replaceAll("\u2044", "/").replace(/\s+/gu, "").toLowerCase().replace(/^sspc-?/u, "");
}
