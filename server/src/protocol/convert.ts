/** From the server's plain data to the messages of the Language Server Protocol. */
import {
  type Command,
  CompletionItemKind,
  DiagnosticSeverity,
  DocumentHighlightKind,
  FoldingRangeKind,
  InsertTextFormat,
  SymbolKind,
  type CodeAction,
  type CodeLens,
  type CompletionItem,
  type Diagnostic,
  type DocumentHighlight,
  type DocumentSymbol,
  type FoldingRange,
  type Hover,
  type InlayHint,
  type Location,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { Severity } from '../../../grammar/tree';
import type { Action, Form } from '../features/code-actions';
import type { CodeLens as PlainLens } from '../features/code-lenses';
import type { Completion } from '../features/completion/completion';
import { plainText, snippetText } from '../features/completion/template';
import type { Fold } from '../features/folding';
import type { Hover as PlainHover } from '../features/hover/index';
import type { InlayHint as PlainHint } from '../features/inlay-hints';
import type { NamePlace } from '../features/names';
import type { Symbol } from '../features/symbols';
import type { Finding, PlacedEdit } from '../rules/findings';
import type { Client } from './client';

/** Clients that have these commands say so when they start. */
export const GO_TO = 'phrasewright.goToPlace';
export const LIST = 'phrasewright.moreActions';

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

export function toRange(document: TextDocument, start: number, end: number): Range {
  return { start: document.positionAt(start), end: document.positionAt(end) };
}

export function toEdit(document: TextDocument, { start, end, text }: PlacedEdit): TextEdit {
  return { range: toRange(document, start, end), newText: text };
}

/** `manual` is the address of the page that explains the rules. */
export function toDiagnostic(document: TextDocument, finding: Finding, manual: string): Diagnostic {
  return {
    range: toRange(document, finding.start, finding.end),
    severity: SEVERITIES[finding.severity],
    code: finding.rule,
    codeDescription: { href: manual + finding.link },
    source: 'phrasewright',
    message: finding.message,
    relatedInformation: finding.related.map(({ start, end, text }) => ({
      location: { uri: document.uri, range: toRange(document, start, end) },
      message: text,
    })),
    ...(finding.early ? { data: EARLY } : {}),
  };
}

/** Data of a finding that may go with what is still being written. */
export const EARLY = 'early';

export function toHover(document: TextDocument, hover: PlainHover): Hover {
  return { contents: { kind: 'markdown', value: hover.markdown }, range: toRange(document, hover.start, hover.end) };
}

export function toInlayHint(document: TextDocument, hint: PlainHint): InlayHint {
  return { position: document.positionAt(hint.offset), label: hint.label, tooltip: hint.tooltip, paddingLeft: true, data: hint.kind };
}

/** Commands of the client’s, each of a document and the position of a phrase’s keyword. */
const LENS_COMMANDS: Readonly<Record<PlainLens['action'], string>> = {
  play: 'phrasewright.playPhrase',
  show: 'phrasewright.showScore',
  explain: 'phrasewright.openWalkthrough',
};

export function toCodeLens(document: TextDocument, lens: PlainLens, client: Client): CodeLens {
  return { range: toRange(document, lens.start, lens.end), command: toLensCommand(document, lens, client) };
}

/** A client without the commands gets words that cannot be pressed: an empty command is the protocol’s way to say so. */
export function toLensCommand(
  document: TextDocument,
  { title, action, keyword }: Pick<PlainLens, 'title' | 'action' | 'keyword'>,
  client: Client,
): Command {
  return client.playsPhrases
    ? { title, command: LENS_COMMANDS[action], arguments: [document.uri, document.positionAt(keyword)] }
    : { title, command: '' };
}

const KINDS: Readonly<Record<Symbol['kind'], SymbolKind>> = {
  lesson: SymbolKind.Package,
  changes: SymbolKind.Constant,
  cell: SymbolKind.Function,
  phrase: SymbolKind.Class,
  system: SymbolKind.Field,
};

export function toSymbol(document: TextDocument, symbol: Symbol): DocumentSymbol {
  return {
    name: symbol.name,
    detail: symbol.detail,
    kind: KINDS[symbol.kind],
    range: toRange(document, symbol.start, symbol.end),
    selectionRange: toRange(document, symbol.nameStart, symbol.nameEnd),
    ...(symbol.children.length === 0 ? {} : { children: symbol.children.map((child) => toSymbol(document, child)) }),
  };
}

export function toFold(document: TextDocument, { start, end, kind }: Fold): FoldingRange {
  return {
    startLine: document.positionAt(start).line,
    endLine: document.positionAt(end).line,
    kind: kind === 'comment' ? FoldingRangeKind.Comment : FoldingRangeKind.Region,
  };
}

/** A client that can is told the version the edits were made for, and refuses them once the document has moved on. */
export function toWorkspaceEdit(document: TextDocument, edits: readonly PlacedEdit[], client: Client): WorkspaceEdit {
  const placed = edits.map((edit) => toEdit(document, edit));
  if (!client.versionsEdits) return { changes: { [document.uri]: placed } };
  return { documentChanges: [{ textDocument: { uri: document.uri, version: document.version }, edits: placed }] };
}

/** A command of the client's: moves the cursor to a place of the document. */
function toGoTo(document: TextDocument, title: string, { start, end }: { readonly start: number; readonly end: number }): Command {
  return { title, command: GO_TO, arguments: [document.uri, toRange(document, start, end)] };
}

/** A command of the client's: lists all forms of the actions for a range. */
function toList(document: TextDocument, title: string, range: Range): Command {
  return { title, command: LIST, arguments: [document.uri, range] };
}

function toCommand(document: TextDocument, { title, instead }: Action, range: Range): Command | null {
  if (instead === null) return null;
  return instead.kind === 'more' ? toList(document, title, range) : toGoTo(document, title, instead);
}

/** Without its edits where the client asks for them when the action is chosen. `range` is what the actions were asked for. */
export function toCodeAction(document: TextDocument, action: Action, range: Range, client: Client): CodeAction {
  const command = toCommand(document, action, range);
  return {
    title: action.title,
    kind: action.kind,
    isPreferred: action.preferred,
    ...(action.finding === null ? {} : { diagnostics: [toDiagnostic(document, action.finding, client.manual)] }),
    ...(command === null ? {} : { command }),
    ...(command === null && !client.resolvesEdits ? { edit: toWorkspaceEdit(document, action.edits(), client) } : {}),
  };
}

/** A form in a list of all: plain data of ours. Its edits are asked for when it is looked at or chosen. */
export function toForm({ title, name, detail, group, kind, preferred }: Form): ListedForm {
  return { title, name, detail, group, kind, preferred };
}

/** One form of an action: what it is called, what tells it from others, and the heading it stands under. By `kind` and `name` its edits are asked for. */
export interface ListedForm {
  readonly title: string;
  readonly name: string;
  readonly detail: string;
  readonly group: string;
  readonly kind: string;
  readonly preferred: boolean;
}

/** All forms at a place, in the order of the menu, for one version of a document. */
export interface ListedForms {
  readonly version: number;
  readonly forms: readonly ListedForm[];
}

/** What a listed form does, in the version that it was listed for. */
export interface FormEdits {
  readonly version: number;
  readonly edits: readonly TextEdit[];
}

const COMPLETION_KINDS: Readonly<Record<Completion['kind'], CompletionItemKind>> = {
  keyword: CompletionItemKind.Keyword,
  name: CompletionItemKind.Variable,
  chord: CompletionItemKind.Constant,
  scale: CompletionItemKind.Enum,
  value: CompletionItemKind.Value,
  template: CompletionItemKind.Snippet,
};

/** `order` keeps the list as the feature ranked it. A client that cannot go from field to field gets their first values as text. */
export function toCompletion(
  document: TextDocument,
  { label, kind, detail, template, filter, start, end, opens, besides }: Completion,
  order: number,
  { fillsFields, opensLists }: Client,
): CompletionItem {
  const fields = kind === 'template' && fillsFields;
  return {
    label,
    kind: COMPLETION_KINDS[kind],
    ...(detail === '' ? {} : { detail }),
    ...(filter === label ? {} : { filterText: filter }),
    ...(fields ? { insertTextFormat: InsertTextFormat.Snippet } : {}),
    sortText: String(order).padStart(4, '0'),
    textEdit: { range: toRange(document, start, end), newText: fields ? snippetText(template) : plainText(template) },
    ...(besides.length === 0 ? {} : { additionalTextEdits: besides.map((edit) => toEdit(document, edit)) }),
    ...(opens && opensLists ? { command: { title: 'Show What Can Be Chosen', command: 'editor.action.triggerSuggest' } } : {}),
  };
}

export function toLocation(document: TextDocument, { start, end }: NamePlace): Location {
  return { uri: document.uri, range: toRange(document, start, end) };
}

export function toHighlight(document: TextDocument, { start, end, defines }: NamePlace): DocumentHighlight {
  return { range: toRange(document, start, end), kind: defines ? DocumentHighlightKind.Write : DocumentHighlightKind.Read };
}
