/** The hover of a phrase's name: the phrase in a few words. */
import type { Reading } from '../../analysis/types';
import { formatKey } from '../../theory/key';
import { problemsOf } from '../../rules/findings';
import { summaryOf } from '../explain/summary';
import { escapeMarkdown } from './words';

export function phraseHover(reading: Reading): string {
  const { phrase } = reading;
  const summary = summaryOf(reading);
  const bars = phrase.bars.filter((bar) => bar.number > 0).length;
  const meters = [...new Set(phrase.bars.map(({ meter }) => `${meter.beats}/${meter.unit}`))].join(', ');
  const flagged = problemsOf(reading).filter(({ severity }) => severity === 'warning' || severity === 'error').length;
  const { all, strong } = summary;
  return [
    `**${escapeMarkdown(phrase.name === '' ? 'A phrase without a name' : phrase.name)}**`,
    [phrase.key === null ? 'no key' : formatKey(phrase.key), meters, `${bars} ${bars === 1 ? 'bar' : 'bars'}`, `${phrase.notes.length} notes`].filter((part) => part !== '').join(', '),
    all.notes === 0 ? '' : `Chord tones: ${all.chordTones} of ${all.notes}, on strong places ${strong.chordTones} of ${strong.notes}. Tensions: ${all.tensions}.`,
    summary.lowest === null ? '' : `Range ${summary.lowest} to ${summary.highest}, largest leap ${summary.largestLeap} half steps.`,
    flagged === 0 ? 'Nothing clashes.' : `${flagged} ${flagged === 1 ? 'finding' : 'findings'}.`,
  ].filter((line) => line !== '').join('\n\n');
}
