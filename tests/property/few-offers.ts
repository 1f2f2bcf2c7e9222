/** Which of the many offers of a random phrase are tried. */
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { ASSISTS, contextAt, offersOf, type Asked, type PlacedOffer } from '../../server/src/assists/registry';
import { finished } from '../../server/src/model/pieces';
import type { Snapshot } from '../../server/src/model/snapshot';

/** A few of a phrase's offers, of the actions that were tried least so far: every action gets its share. What the others would offer is not worked out. */
export function aFew(
  snapshot: Snapshot,
  asked: readonly Asked[],
  pick: number,
  tried: ReadonlyMap<string, number>,
): readonly PlacedOffer[] {
  const byNeed = ASSISTS.filter(({ id }) => tried.has(id))
    .map((assist, i) => ({ assist, order: tried.get(assist.id)! + ((i * 7 + pick) % 5) }))
    .sort((a, b) => a.order - b.order);
  const offers: PlacedOffer[] = [];
  for (const { assist } of byNeed) {
    if (offers.length >= 6) break;
    const own = asked.flatMap((one) => {
      const context = contextAt(snapshot, one, DEFAULT_THEORY);
      return context === null ? [] : finished(offersOf(assist, context, one, fail));
    });
    // Of many forms two, by chance, so that each phrase tries several actions.
    const first = own.length === 0 ? 0 : pick % own.length;
    offers.push(...[...own.slice(first), ...own.slice(0, first)].slice(0, 2));
  }
  return offers;
}

function fail(error: unknown): never {
  throw error;
}
