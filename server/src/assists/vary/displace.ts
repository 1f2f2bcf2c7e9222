import { Fraction } from '../../model/fraction';
import type { TextEdit } from '../../../../grammar/tree';
import { ZERO } from '../../model/time';
import type { Phrase } from '../../model/types';
import type { Assist, AssistContext, Offer } from '../assist';
import { isAtTitle } from '../writing/phrase-title';
import { rowAtKeyword } from '../writing/row-keyword';
import { soundsOf, writeMeasures, type Measure, type Sound } from '../writing/score';
import { barEdits, isWhole, lineRows, replacing, rewritten } from '../writing/whole-phrase';

export const displace: Assist = {
  id: 'displace',
  kind: 'refactor.rewrite.displace',
  what: 'Moves a line against its bars by half a beat or a beat, later or earlier; what comes before bar 1 becomes a pickup.',
  offers(context) {
    if ((!isAtTitle(context) && rowAtKeyword(context, 'line') === null) || !isWhole(context.reading.phrase)) return [];
    return [
      ['half a beat', 1, 2],
      ['a beat', 1, 1],
    ].flatMap(([words, n, d]) => {
      const beats = new Fraction(n as number, d as number);
      return [
        ...shifted(context, beats, `Play the line ${words} later`),
        ...shifted(context, beats.neg(), `Play the line ${words} earlier`),
      ];
    });
  },
};

function shifted(context: AssistContext, beats: Fraction, title: string): Offer[] {
  const { phrase } = context.reading;
  const first = phrase.bars.find(({ number }) => number === 1);
  const last = phrase.bars[phrase.bars.length - 1];
  // Where only chords sound in bar 1, nothing stands before it that could become a pickup.
  if (first?.node == null || first.pickup || last === undefined) return [];
  const by = first.meter.beat.mul(beats);
  const end = last.onset.add(last.length);
  const moved = soundsOf(phrase).map((sound): Sound => ({ ...sound, onset: sound.onset.add(by), end: sound.end.add(by) }));
  // A note that would start after the last bar would be lost; one that only rings on is cut short.
  if (moved.some(({ onset }) => onset.compare(end) >= 0)) return [];
  const sounds = moved.map((sound): Sound => (sound.end.compare(end) > 0 ? { ...sound, end } : sound));
  const pickup = pickupFor(sounds[0]!, phrase);
  if (pickup === null) return [];
  const own = phrase.bars.filter(({ number }) => number > 0);
  const written = writeMeasures({ phrase, measures: [...pickup, ...own], spans: phrase.spans }, sounds);
  if (written === null) return [];
  const lead = pickup.length === 0 ? '' : written[0]!;
  const texts = [...(own.length < phrase.bars.length ? [null] : []), ...written.slice(pickup.length)];
  const edits = [...barEdits(phrase, texts), leadEdit(phrase, lead)];
  const wanted = sounds.map(({ onset, like }) => `${onset.toFraction()} ${like.midi}`).join();
  return replacing(
    context,
    rewritten(context, edits),
    title,
    (after) => after.phrase.notes.map((note) => `${note.onset.toFraction()} ${note.midi}`).join() === wanted,
  );
}

/** The pickup that a line needs: as many whole beats as it takes, or none; null where it would fill a bar. */
function pickupFor(first: Sound, phrase: Phrase): readonly Measure[] | null {
  const { meter } = phrase.bars.find(({ number }) => number === 1)!;
  if (first.onset.compare(ZERO) >= 0) return [];
  const length = meter.beat.mul(first.onset.neg().div(meter.beat).ceil());
  return length.compare(meter.length) >= 0 ? null : [{ number: 0, onset: length.neg(), length, meter }];
}

/** What stands before the first bar line becomes the new pickup. */
function leadEdit(phrase: Phrase, lead: string): TextEdit {
  const row = lineRows(phrase)[0]!;
  const first = phrase.bars.find(({ number }) => number === 1)!.node!;
  const barLine = first.open?.start ?? first.range.start;
  const sign = first.open === null && lead !== '' ? '| ' : '';
  return { range: { start: row.keyword.range.end, end: barLine }, text: ` ${lead} ${sign}` };
}
