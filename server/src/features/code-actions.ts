/** What can be done at a place: the fixes of the findings there, and the assists. */
import { isWanted, offersAt } from '../assists/registry';
import type { Snapshot } from '../model/snapshot';
import { findingsOf, type Finding, type PlacedEdit } from '../rules/findings';
import { fixAll } from './fix-all';
import type { Settings } from './options';

export interface Action {
  readonly title: string;
  /** A code action kind: `quickfix`, `refactor.rewrite.enclosure` … */
  readonly kind: string;
  /** Worked out when it is asked for. */
  edits(): readonly PlacedEdit[];
  readonly preferred: boolean;
  /** The finding it removes, or speaks of, if any. */
  readonly finding: Finding | null;
  /** A place to go to, in place of edits. */
  readonly goTo: { readonly start: number; readonly end: number } | null;
}

/** More than a dozen entries is no menu; a kind asked for by its own name is a list, and may be long. */
const MOST = 12;
const BROAD = ['', 'quickfix', 'refactor', 'refactor.rewrite', 'source'];

/** Fixes first, then what removes a finding, then embellishments; at most a dozen of the kinds that are wanted (all, unless said). */
export function actionsAt(
  snapshot: Snapshot, start: number, end: number, settings: Settings, onError: (error: unknown) => void, only: readonly string[] | null = null,
): readonly Action[] {
  const findings = findingsOf(snapshot, settings.theory).filter((finding) => finding.start <= end && finding.end >= start);
  const fixes = findings.flatMap((finding) =>
    finding.fixes.map((fix): Action => ({ title: fix.title, kind: 'quickfix', edits: () => fix.edits, preferred: fix.preferred, finding, goTo: null })),
  );
  const places = findings.filter(({ rule, related }) => rule === 'claim-refuted' && related.length > 0).map((finding): Action => ({
    title: 'Go to the note that breaks it', kind: 'quickfix', edits: () => [], preferred: false, finding, goTo: finding.related[0]!,
  }));
  const offers = offersAt(snapshot, { start, end, only }, settings.theory, onError).map((offer): Offered => ({
    assist: offer.assist,
    title: offer.title,
    kind: offer.kind,
    edits: () => offer.edits(),
    preferred: offer.preferred,
    finding: offer.repairs === null ? null : (findings.find((finding) => finding.rule === offer.repairs) ?? null),
    goTo: null,
  }));
  const first = [...fixes, ...places].filter(({ kind }) => isWanted(kind, only));
  const wanted = offers.filter(({ kind }) => isWanted(kind, only));
  const isNarrow = only !== null && only.every((kind) => !BROAD.includes(kind));
  const chosen = isNarrow ? wanted : fairShare(wanted, MOST - first.length);
  return [...first, ...chosen, ...everything(snapshot, settings, only)].slice(0, isNarrow ? undefined : MOST);
}

interface Offered extends Action {
  readonly assist: string;
}

/** The same actions, each with its edits, by its title: what an editor asks for when one is chosen. */
export function actionNamed(snapshot: Snapshot, { start, end, kind, title }: { start: number; end: number; kind: string; title: string }, settings: Settings, onError: (error: unknown) => void): Action | null {
  const only = [[kind], null];
  return only.flatMap((kinds) => actionsAt(snapshot, start, end, settings, onError, kinds)).find((action) => action.title === title) ?? null;
}

/** Where there are more than fit, every action gets its likeliest forms in before any gets its rarer ones; the order of the menu stays. */
function fairShare(offers: readonly Offered[], room: number): readonly Offered[] {
  const rank = new Map<Offered, number>();
  const counts = new Map<string, number>();
  for (const offer of offers) {
    const before = counts.get(offer.assist) ?? 0;
    counts.set(offer.assist, before + 1);
    // What repairs a finding is what the writer came for.
    rank.set(offer, offer.finding === null ? before : before / 4);
  }
  const kept = new Set([...offers].sort((a, b) => rank.get(a)! - rank.get(b)!).slice(0, Math.max(0, room)));
  return offers.filter((offer) => kept.has(offer));
}

const FIX_ALL = 'source.fixAll.phrasewright';

/** All safe fixes as one action; worked out only when source actions are asked for, on save or from the menu. */
function everything(snapshot: Snapshot, settings: Settings, only: readonly string[] | null): Action[] {
  if (only === null || !isWanted(FIX_ALL, only)) return [];
  const { text, applied, left } = fixAll(snapshot.text, settings.theory);
  if (applied.length === 0) return [];
  const title = `Apply all ${applied.length} safe fixes${left.length === 0 ? '' : ` (${left.length} findings need your judgement)`}`;
  return [{ title, kind: FIX_ALL, edits: () => [{ start: 0, end: snapshot.text.length, text }], preferred: false, finding: null, goTo: null }];
}
