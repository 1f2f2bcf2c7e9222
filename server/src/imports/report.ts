/** What an import could not keep, and what it had to decide: one line a kind of thing, with the measures it stands in. */

export interface ReportLine {
  /** `left-out`: something of the file is not in the text. `decided`: all is there, but the reader should know how it was taken. */
  readonly kind: 'left-out' | 'decided';
  /** With its measures: `measures 3, 5: left out: slurs`. */
  readonly text: string;
}

export interface Report {
  /** `measure` is its number as the file has it; null for the whole file. */
  readonly leftOut: (what: string, measure: string | null) => void;
  readonly decided: (what: string, measure: string | null) => void;
  readonly lines: () => readonly ReportLine[];
}

const MOST_NAMED = 12;

/** An empty report. What is said twice of a measure is said once. */
export function openReport(): Report {
  const entries = new Map<string, { readonly kind: ReportLine['kind']; readonly what: string; readonly measures: Set<string> }>();
  const add =
    (kind: ReportLine['kind']) =>
    (what: string, measure: string | null): void => {
      const key = `${kind} ${what}`;
      const entry = entries.get(key) ?? { kind, what, measures: new Set<string>() };
      entries.set(key, entry);
      if (measure !== null) entry.measures.add(measure);
    };
  return {
    leftOut: add('left-out'),
    decided: add('decided'),
    lines: () =>
      [...entries.values()].map(({ kind, what, measures }) => ({
        kind,
        text: `${placeText([...measures])}${kind === 'left-out' ? 'left out: ' : ''}${what}`,
      })),
  };
}

function placeText(measures: readonly string[]): string {
  if (measures.length === 0) return '';
  const named = measures.slice(0, MOST_NAMED).join(', ');
  const more = measures.length > MOST_NAMED ? ` and ${measures.length - MOST_NAMED} more` : '';
  return `${measures.length === 1 ? 'measure' : 'measures'} ${named}${more}: `;
}
