/** What `check` and `explain` say of one file: a piece of the output. Which thread makes it does not matter. */
import { readPhrase } from './analysis/read';
import { explainDocument } from './explain/document';
import { oneLine } from './explain/one-line';
import { walkthroughMarkdown, walkthroughText, type Length } from './explain/walkthrough';
import { escapeMarkdown } from './features/hover/words';
import type { Settings } from './features/options';
import { checkReport, checkText } from './features/report';
import { openSnapshot, type Snapshot } from './model/snapshot';
import { CannotRun, textOfSource, type NamedSource } from './read-text';
import { findingsOf } from './rules/findings';
import { isSevere } from './rules/severe';
import { forTerminal, jsonForTerminal } from './terminal-text';
import { VERSION } from './version';

/** What is asked of every file. */
export interface ReportOrder {
  readonly command: 'check' | 'explain';
  readonly format: 'text' | 'json' | 'markdown';
  readonly length: 'line' | Length;
  readonly settings: Settings;
}

export interface FilePiece {
  /** Empty where there is nothing to say. */
  readonly text: string;
  /** Whether there is a warning or an error; never of `explain`. */
  readonly found: boolean;
}

/** Throws `CannotRun` where a file cannot be read, or is too long to be explained. */
export function pieceOf(order: ReportOrder, source: NamedSource): FilePiece {
  const snapshot = openSnapshot(source.file, 1, textOfSource(source));
  const { text, found } =
    order.command === 'check' ? checked(order, source.file, snapshot) : { text: explained(order, source.file, snapshot), found: false };
  return { text: order.format === 'json' ? jsonForTerminal(text) : forTerminal(text), found };
}

/** What stands before the first piece, between two that are not empty, and after the last one. */
export function frameOf({ command, format, length }: ReportOrder): {
  readonly before: string;
  readonly between: string;
  readonly after: string;
} {
  if (format === 'json')
    return {
      before: `{\n  "version": ${JSON.stringify(VERSION)},\n  "${command === 'check' ? 'files' : 'phrases'}": [`,
      between: ',',
      after: ']\n}\n',
    };
  return { before: '', between: command === 'explain' && length !== 'line' ? '\n' : '', after: '' };
}

function checked({ format, settings }: ReportOrder, file: string, snapshot: Snapshot): FilePiece {
  const report = checkReport(file, snapshot, settings.theory);
  const found = report.findings.some(isSevere);
  return { text: format === 'json' ? indented([report]) : checkText([report]), found };
}

function explained({ format, length, settings }: ReportOrder, file: string, snapshot: Snapshot): string {
  refuseTooLong(file, snapshot, settings);
  if (format === 'json') return indented(explainDocument(snapshot, settings.theory));
  const readings = snapshot.phrases.map(({ phrase }) => readPhrase(phrase, settings.theory));
  if (length === 'line')
    return readings.map((reading) => `${reading.phrase.name === '' ? '' : `${reading.phrase.name}: `}${oneLine(reading, [])}\n`).join('');
  return readings
    .map((reading) => (format === 'markdown' ? walkthroughMarkdown(reading, escapeMarkdown, length) : walkthroughText(reading, length)))
    .join('\n');
}

const TOO_LONG = 'file-too-long';

/** `check` reports a file that is too long as a finding; the other commands have nothing to say about one. */
export function refuseTooLong(file: string, snapshot: Snapshot, { theory }: Settings): void {
  // It stands before all phrases: none need be checked for it.
  if (!snapshot.between.some(({ problem }) => problem.rule === TOO_LONG)) return;
  const refused = findingsOf(snapshot, theory).find(({ rule }) => rule === TOO_LONG);
  if (refused !== undefined) throw new CannotRun(`${file}: ${refused.message}`);
}

/** The items of a list as they stand two levels deep. */
function indented(items: readonly unknown[]): string {
  return items.map((item) => `\n    ${JSON.stringify(item, null, 2).replaceAll('\n', '\n    ')}`).join(',');
}
