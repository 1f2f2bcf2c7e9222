/** What can be done at a place: the fixes of the findings there, and the assists; as a menu, as a list of one kind, and all forms in groups. */
import { entryOf, isWanted, menuOffersInPieces, offersInPieces, type PlacedOffer } from '../assists/registry';
import { guarded } from '../model/faults';
import { finished, type Pieces } from '../model/pieces';
import type { Snapshot } from '../model/snapshot';
import { findingsOf, type Finding, type PlacedEdit } from '../rules/findings';
import { beatWords, capital } from '../rules/words';
import { fixAll } from './fix-all';
import type { Settings } from './options';
import { contains, phraseAt } from './place';

export interface Action {
  readonly title: string;
  /** A title that no other form of the same action has: `Enclose E: F-D E (above–below, diatonic, from the hold before)`. */
  readonly name: string;
  /** A code action kind: `quickfix`, `refactor.rewrite.enclosure` … */
  readonly kind: string;
  /** Worked out when it is asked for. */
  edits(): readonly PlacedEdit[];
  readonly preferred: boolean;
  /** The finding it removes, or speaks of, if any. */
  readonly finding: Finding | null;
  /** In place of edits: a place to go to, or the list of all forms to open. */
  readonly instead: { readonly kind: 'go-to'; readonly start: number; readonly end: number } | { readonly kind: 'more' } | null;
}

/** One way to do an action, as a list of all of them shows it. */
export interface Form extends Action {
  /** What tells it from the others of its group; empty for nothing. */
  readonly detail: string;
  /** The heading it stands under: `Enclosure, above–below`. */
  readonly group: string;
  /** Forms of one entry of the menu share it. */
  readonly entry: string;
}

/** More than a dozen entries is no menu; a kind asked for by its own name is a list, and may be long. */
const MOST = 12;
const BROAD = ['', 'quickfix', 'refactor', 'refactor.rewrite', 'source'];
const MORE = 'refactor.rewrite.more';

type OnError = (error: unknown) => void;

/**
 * Fixes first, then what removes a finding, then embellishments. Without kinds, or with broad ones, a menu of a dozen entries at most: each
 * action once, in its likeliest form, and a last entry for the rest. By its own kind an action lists all its forms.
 */
export function actionsAt(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  onError: OnError,
  only: readonly string[] | null = null,
): readonly Action[] {
  return finished(actionsInPieces(snapshot, start, end, settings, onError, only));
}

/** The same with a yield after each assist. */
export function* actionsInPieces(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  onError: OnError,
  only: readonly string[] | null = null,
): Pieces<readonly Action[]> {
  const isNarrow = only !== null && only.every((kind) => !BROAD.includes(kind));
  const source = guarded('the action that applies all safe fixes', [], () => everything(snapshot, settings, only));
  if (isNarrow)
    return [
      ...(yield* formsInPieces(snapshot, start, end, settings, onError, only)).map((form) => ({ ...form, title: form.name })),
      ...source,
    ];
  const room = MOST - source.length;
  const { findings, repairs } = guarded('the fixes of findings', NO_REPAIRS, () => repairsAt(snapshot, start, end, settings, only));
  // One more where there are fixes: an action may do what a fix does.
  const offers = yield* menuOffersInPieces(
    snapshot,
    { start, end, only },
    room - Math.max(0, repairs.length - 1),
    settings.theory,
    onError,
  );
  const title = titling(snapshot, start, end, only);
  const forms = besides(
    repairs,
    offers.map((offer) => formOf(offer, findings, title)),
  );
  const entries = forms.filter(({ entry }, i) => forms.findIndex((form) => form.entry === entry) === i);
  const isAll = entries.length === forms.length && entries.length <= room;
  return [
    ...(isAll
      ? entries
      : [...entries.slice(0, room - 1), more(only, title('More …', asksFixesAlone(only) ? (findings[0] ?? null) : null))]),
    ...source,
  ];
}

/** The last entry of a menu that does not show everything. */
function more(only: readonly string[] | null, title: string): Action {
  return {
    title,
    name: title,
    kind: isWanted(MORE, only) ? MORE : 'quickfix',
    edits: () => [],
    preferred: false,
    finding: null,
    instead: { kind: 'more' },
  };
}

/** Every form of every action of the kinds that are wanted (all, unless said), those of one action likeliest first. */
export function formsAt(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  onError: OnError,
  only: readonly string[] | null = null,
): readonly Form[] {
  return finished(formsInPieces(snapshot, start, end, settings, onError, only));
}

/** The same with a yield after each assist, and over several notes after each note that it is tried on. */
export function* formsInPieces(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  onError: OnError,
  only: readonly string[] | null = null,
): Pieces<readonly Form[]> {
  const { findings, repairs } = guarded('the fixes of findings', NO_REPAIRS, () => repairsAt(snapshot, start, end, settings, only));
  const offers = yield* offersInPieces(snapshot, { start, end, only }, settings.theory, onError);
  const title = titling(snapshot, start, end, only);
  return besides(
    repairs,
    offers.map((offer) => formOf(offer, findings, title)).filter(({ kind }) => isWanted(kind, only)),
  );
}

/** Fixes, and the other forms that do something else: *Spell D# as Eb* is both the fix of a finding and an action. */
function besides(repairs: readonly Form[], others: readonly Form[]): readonly Form[] {
  const said = new Set(repairs.map(({ title }) => title));
  return [...repairs, ...others.filter(({ title }) => !said.has(title))];
}

const NO_REPAIRS: ReturnType<typeof repairsAt> = { findings: [], repairs: [] };

/** The findings there, and what they offer themselves: their fixes, and the places that they speak of. */
function repairsAt(
  snapshot: Snapshot,
  start: number,
  end: number,
  settings: Settings,
  only: readonly string[] | null,
): { readonly findings: readonly Finding[]; readonly repairs: readonly Form[] } {
  const findings = findingsOf(snapshot, settings.theory).filter((finding) => finding.start <= end && finding.end >= start);
  const alone = { detail: '', group: 'Fix' };
  const titled = titling(snapshot, start, end, only);
  const fixes = findings.flatMap((finding, i) =>
    finding.fixes.map((fix, k): Form => {
      const title = titled(fix.title, finding);
      return {
        title,
        name: title,
        kind: 'quickfix',
        edits: () => fix.edits,
        preferred: fix.preferred,
        finding,
        instead: null,
        ...alone,
        entry: `fix ${i} ${k}`,
      };
    }),
  );
  const places = findings
    .filter(({ rule, related }) => rule === 'claim-refuted' && related.length > 0)
    .map(
      (finding, i): Form => ({
        title: 'Go to the note that breaks it',
        name: 'Go to the note that breaks it',
        kind: 'quickfix',
        edits: () => [],
        preferred: false,
        finding,
        instead: { kind: 'go-to', ...finding.related[0]! },
        ...alone,
        entry: `place ${i}`,
      }),
    );
  return { findings, repairs: [...fixes, ...places].filter(({ kind }) => isWanted(kind, only)) };
}

function formOf(offer: PlacedOffer, findings: readonly Finding[], titled: Titling): Form {
  const finding = offer.repairs === null ? null : (findings.find(({ rule }) => rule === offer.repairs) ?? null);
  const title = titled(offer.title, finding);
  return {
    title,
    name: offer.detail === '' ? title : `${title} (${offer.detail})`,
    kind: offer.kind,
    edits: () => offer.edits(),
    preferred: offer.preferred,
    finding,
    instead: null,
    detail: offer.detail,
    group: heading(offer.device, offer.shape),
    entry: entryOf(offer),
  };
}

/** The title of what mends a finding, or of what is about no finding of its own (null). */
type Titling = (title: string, finding: Finding | null) => string;

/**
 * A fix of a place other than the cursor's begins with its place. Who asks for fixes alone may stand elsewhere: in the list of problems, or on
 * another note of the line, for an editor asks so for the findings of a line where the note at the cursor has none, and shows both in one menu.
 */
function titling(snapshot: Snapshot, start: number, end: number, only: readonly string[] | null): Titling {
  const isElsewhere = (finding: Finding): boolean => asksFixesAlone(only) || start < finding.start || end > finding.end;
  return (title, finding) => {
    const place = finding !== null && isElsewhere(finding) ? placeOf(snapshot, finding) : '';
    return place === '' ? title : `${place}: ${title.charAt(0).toLowerCase()}${title.slice(1)}`;
  };
}

function asksFixesAlone(only: readonly string[] | null): boolean {
  return only !== null && only.length > 0 && only.every((kind) => isWanted(kind, ['quickfix']));
}

/** `Bar 3, beat 1`, `Bar 3`, `Pickup, beat 4`; empty for what is in no bar of a line. */
function placeOf(snapshot: Snapshot, { start, end, about }: Finding): string {
  const placed = phraseAt(snapshot, start);
  if (placed === null) return '';
  const { phrase } = placed;
  const note = about === null ? null : (phrase.notes[about.note] ?? null);
  const bar = phrase.bars.find(({ number, node }) =>
    note === null
      ? node !== null && contains(node.range, start - placed.start) && contains(node.range, end - placed.start)
      : number === note.bar,
  );
  if (bar === undefined) return '';
  return `${bar.number === 0 ? 'Pickup' : `Bar ${bar.number}`}${note === null ? '' : `, ${beatWords(note.beat)}`}`;
}

/** The same with all forms of a group together, for a list with headings. */
export function groupedForms(forms: readonly Form[]): readonly Form[] {
  const order = [...new Set(forms.map(({ group }) => group))];
  return [...forms].sort((a, b) => order.indexOf(a.group) - order.indexOf(b.group));
}

/** Headings of what is no device, where the kind's own word would not do for one. */
const HEADINGS: Readonly<Record<string, string>> = {
  phrase: 'rows of the phrase',
  mode: 'major and minor',
  displace: 'displacement',
  transpose: 'another key',
  line: 'the line written otherwise',
  chords: 'the chords written otherwise',
  file: 'the whole file',
};

function heading(device: string, shape: string): string {
  return capital(shape === '' ? (HEADINGS[device] ?? device) : `${device}, ${shape}`);
}

/** An action that was offered: what was asked for, and what tells it from the others. */
export interface Named {
  readonly start: number;
  readonly end: number;
  /** The kinds that were asked for; null for all. An action asked for by its own kind may be about another place than in a menu. */
  readonly only: readonly string[] | null;
  readonly kind: string;
  readonly name: string;
}

/** The action of that name, with its edits: what an editor asks for when one is chosen. */
export function actionNamed(
  snapshot: Snapshot,
  { start, end, only, kind, name }: Named,
  settings: Settings,
  onError: OnError,
): Action | null {
  return (
    [...formsAt(snapshot, start, end, settings, onError, only), ...everything(snapshot, settings, only)].find(
      (action) => action.kind === kind && action.name === name,
    ) ?? null
  );
}

const FIX_ALL = 'source.fixAll.phrasewright';

/** All safe fixes as one action; worked out only when source actions are asked for, on save or from the menu. */
function everything(snapshot: Snapshot, settings: Settings, only: readonly string[] | null): Action[] {
  if (only === null || !isWanted(FIX_ALL, only)) return [];
  const { text, applied, left } = fixAll(snapshot.text, settings.theory);
  if (applied.length === 0) return [];
  const title = `Apply all ${applied.length} safe fixes${left.length === 0 ? '' : ` (${left.length} findings need your judgement)`}`;
  return [
    {
      title,
      name: title,
      kind: FIX_ALL,
      edits: () => [{ start: 0, end: snapshot.text.length, text }],
      preferred: false,
      finding: null,
      instead: null,
    },
  ];
}
