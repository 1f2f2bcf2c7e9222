/** Which text the picture of a phrase is of, and what is said where that is not the text as it is. */
import type { KeyPicture, ScorePhrase } from '../../src/score/messages';

/** What a place on the page holds before its phrase has come. */
export const NOTHING: ScorePhrase = {
  revision: 0,
  name: '',
  start: 0,
  end: 0,
  heading: '',
  tempo: 120,
  musicXml: '',
  notes: [],
  devices: [],
  bars: [],
  findings: [],
  says: [],
  walkthrough: [],
  broken: null,
  unfinished: false,
};

export interface Pictured {
  readonly pictured: ScorePhrase;
  /** `behind`: of the text a moment ago; `stale`: of the text before an error. */
  readonly state: 'current' | 'behind' | 'stale';
}

export function isWhole({ broken, unfinished }: Pick<ScorePhrase, 'broken' | 'unfinished'>): boolean {
  return broken === null && !unfinished;
}

/** The phrase whose picture is shown; `good` is the last one in its place that could be read whole. */
export function picturedOf(phrase: ScorePhrase, good: ScorePhrase | undefined): Pictured {
  if (isWhole(phrase) || good === undefined) return { pictured: phrase, state: 'current' };
  // A note that is being written is no error yet: the picture of a moment ago stays as it is.
  return { pictured: good, state: phrase.broken === null ? 'behind' : 'stale' };
}

/** What keeps a phrase's picture from being up to date, in words; empty for nothing. */
export function stateWords({ phrase, pictured }: { readonly phrase: ScorePhrase; readonly pictured: ScorePhrase }): string {
  if (phrase.revision === 0) return '';
  if (phrase.broken === null) return phrase.notes.length === 0 ? 'This phrase has no notes yet. Write a line: line | C4 D E F |' : '';
  const what = pictured !== phrase ? 'The picture is of the text before this error' : 'The picture leaves out what cannot be read';
  // The error's own words stand below the picture, unless it is in a definition.
  const isBelow = phrase.findings.some(({ start, message }) => start === phrase.broken!.start && message === phrase.broken!.message);
  return isBelow ? `${what}.` : `${what}.\n${phrase.broken.message}`;
}

/** A phrase as it sounds in another key: what is told of its notes in the text is about those that are written. */
export function inKey(phrase: ScorePhrase, { musicXml, labels }: KeyPicture): ScorePhrase {
  return {
    ...phrase,
    musicXml,
    notes: phrase.notes.map((note, i) => (labels[i] === undefined ? note : { ...note, label: labels[i], lines: [labels[i]] })),
  };
}
