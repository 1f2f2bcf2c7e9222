/** Findings as the command line prints them: lines and columns from 1, ends exclusive. */
import type { Severity } from '../../../grammar/tree';
import type { TheoryOptions } from '../analysis/types';
import type { Snapshot } from '../model/snapshot';
import { findingsOf } from '../rules/findings';

export interface FileReport {
  readonly file: string;
  readonly findings: readonly {
    readonly rule: string;
    readonly severity: Severity;
    readonly message: string;
    readonly line: number;
    readonly column: number;
    readonly endLine: number;
    readonly endColumn: number;
  }[];
}

export function checkReport(file: string, snapshot: Snapshot, options: TheoryOptions): FileReport {
  const locate = locator(snapshot.text);
  return {
    file,
    findings: findingsOf(snapshot, options).map(({ rule, severity, message, start, end }) => {
      const from = locate(start);
      const to = locate(end);
      return { rule, severity, message, line: from.line, column: from.column, endLine: to.line, endColumn: to.column };
    }),
  };
}

/** Offsets to lines and columns, both from 1. */
function locator(text: string): (offset: number) => { line: number; column: number } {
  const starts = [0];
  for (const match of text.matchAll(/\r\n|\r|\n/g)) starts.push(match.index + match[0].length);
  return (offset) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - starts[low]! + 1 };
  };
}

/** One line a finding: `file:line:column severity rule message`. */
export function checkText(files: readonly FileReport[]): string {
  return files
    .flatMap(({ file, findings }) => findings.map((f) => `${file}:${f.line}:${f.column} ${f.severity} ${f.rule} ${f.message}\n`))
    .join('');
}
