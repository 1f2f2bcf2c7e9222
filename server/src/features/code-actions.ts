/** What can be done at a place: the fixes of the findings there, and the assists. */
import { offersAt } from '../assists/registry';
import type { Snapshot } from '../model/snapshot';
import { findingsOf, type Finding, type PlacedEdit } from '../rules/findings';
import { fixAll } from './fix-all';
import type { Settings } from './options';

export interface Action {
  readonly title: string;
  /** A code action kind: `quickfix`, `refactor.rewrite.enclosure` … */
  readonly kind: string;
  readonly edits: readonly PlacedEdit[];
  readonly preferred: boolean;
  /** The finding it removes, or speaks of, if any. */
  readonly finding: Finding | null;
  /** A place to go to, in place of edits. */
  readonly goTo: { readonly start: number; readonly end: number } | null;
}

const MOST = 12;

/** Fixes first, then what removes a finding, then embellishments; at most a dozen of the kinds that are wanted (all, unless said). */
export function actionsAt(
  snapshot: Snapshot, start: number, end: number, settings: Settings, onError: (error: unknown) => void, only: readonly string[] | null = null,
): readonly Action[] {
  const findings = findingsOf(snapshot, settings.theory).filter((finding) => finding.start <= end && finding.end >= start);
  const fixes = findings.flatMap((finding) =>
    finding.fixes.map((fix): Action => ({ title: fix.title, kind: 'quickfix', edits: fix.edits, preferred: fix.preferred, finding, goTo: null })),
  );
  const places = findings.filter(({ rule, related }) => rule === 'claim-refuted' && related.length > 0).map((finding): Action => ({
    title: 'Go to the note that breaks it', kind: 'quickfix', edits: [], preferred: false, finding, goTo: finding.related[0]!,
  }));
  const offers = offersAt(snapshot, start, end, settings.theory, onError).map((offer): Action => ({
    title: offer.title,
    kind: offer.kind,
    edits: offer.edits,
    preferred: offer.preferred,
    finding: offer.repairs === null ? null : (findings.find((finding) => finding.rule === offer.repairs) ?? null),
    goTo: null,
  }));
  return [...fixes, ...places, ...likeliest(offers), ...everything(snapshot, settings, only)].filter(({ kind }) => isWanted(kind, only)).slice(0, MOST);
}

/** A kind is wanted if it, or a kind it belongs to, is asked for: `refactor` takes in `refactor.rewrite.enclosure`. */
function isWanted(kind: string, only: readonly string[] | null): boolean {
  return only === null || only.some((wanted) => wanted === '' || kind === wanted || kind.startsWith(`${wanted}.`));
}

const FIX_ALL = 'source.fixAll.phrasewright';

/** All safe fixes as one action; worked out only when source actions are asked for, on save or from the menu. */
function everything(snapshot: Snapshot, settings: Settings, only: readonly string[] | null): Action[] {
  if (only === null || !isWanted(FIX_ALL, only)) return [];
  const { text, applied, left } = fixAll(snapshot.text, settings.theory);
  if (applied.length === 0) return [];
  const title = `Apply all ${applied.length} safe fixes${left.length === 0 ? '' : ` (${left.length} findings need your judgement)`}`;
  return [{ title, kind: FIX_ALL, edits: [{ start: 0, end: snapshot.text.length, text }], preferred: false, finding: null, goTo: null }];
}

/** Where an action offers many shapes, the rarer ones give way once the menu is full: three-note enclosures in half steps. */
function likeliest(offers: readonly Action[]): readonly Action[] {
  if (offers.length <= MOST) return offers;
  const rare = offers.filter(({ title }) => /^Wrap .* (?:two above|two below).*\(chromatic\)/.test(title));
  const others = offers.filter((offer) => !rare.includes(offer));
  return [...others, ...rare];
}
