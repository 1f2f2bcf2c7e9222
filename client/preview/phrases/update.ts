/** Brings the phrases in their places up to date: words are shown at once, pictures wait to be drawn. */
import type { ScorePhrase } from '../../src/score/messages';
import { estimatedHeight } from '../sight';
import { isWhole, picturedOf, stateWords } from './pictured';
import { stampOf } from './room';
import type { PageState, Shown } from './shown';

type Updating = Pick<PageState, 'sounding' | 'played' | 'good'> & Readonly<Pick<PageState, 'shown' | 'width' | 'options'>>;

/** More good pictures than that are of phrases that are long gone. */
const MOST_GOOD = 2000;

/** Takes the phrases of a score, whose places are there already; room is kept for pictures that are still to be drawn. */
export function updatePhrases(page: Updating, phrases: readonly ScorePhrase[], keys: readonly string[]): void {
  if (page.good.size > MOST_GOOD) page.good.clear();
  phrases.forEach((phrase, i) => {
    const one = page.shown[i]!;
    const isOther = one.key !== keys[i];
    one.phrase = phrase;
    one.isWaiting = false;
    if (isOther) makeWay(page, i, keys[i]!);
    if (phrase.revision !== 0) updateText(page, one, isOther ? 'now' : 'in a pause');
    else {
      // What is still to come has a name and no more.
      one.drawnFor = '';
      if (isOther) one.section.showWords(phrase, '');
    }
    if (one.drawnFor === '') one.section.keepRoom(estimatedHeight(phrase.bars.length, page.width, page.options.size));
  });
}

/** Until the picture of another phrase is drawn, that of the one before would mislead. */
function makeWay(page: Updating, index: number, key: string): void {
  const one = page.shown[index]!;
  one.key = key;
  one.drawnFor = '';
  one.section.showSystems(new Map());
  if (page.played?.phrase === index) page.played = null;
  if (page.sounding?.phrase === index) page.sounding = null;
}

/** Shows what is new in the words of a phrase, in those of its walk-through now or in a pause of the typing; then its picture waits. */
function updateText(page: Updating, one: Shown, when: 'now' | 'in a pause'): void {
  const { section, key, phrase } = one;
  if (one.drawnFor === stampOf(phrase, page)) return;
  if (isWhole(phrase)) page.good.set(key, phrase);
  const { pictured, state } = picturedOf(phrase, page.good.get(key));
  one.pictured = pictured;
  section.setState(state);
  section.showWords(phrase, stateWords(one));
  section.showWalkthrough(pictured.walkthrough, when);
  one.isWaiting = true;
}
