/** Names of the fields of the import's forms, shared by the page and its actions. */
export const fieldNames = {
  field: (column: number): string => `column.${column}.field`,
  unit: (column: number): string => `column.${column}.unit`,
  comma: (column: number): string => `column.${column}.comma`,
  type: (word: string): string => `type.${word}`,
  answer: (question: string): string => `answer.${question}`,
};

export const STEPS = ["file", "columns", "rows", "commit"] as const;
export type Step = (typeof STEPS)[number];
