/** `lands DEGREE at BAR.BEAT`: the note that starts there, or is held into it, has that degree over the chord of that place. */
import { spanAt } from '../../model/time';
import { calledFigure } from '../../theory/called';
import { copyable, sameFigureSound } from '../../theory/figure';
import { formatPitch } from '../../theory/pitch';
import { spokenFigure } from '../shown-figure';
import { holds, impossible, refuted, type ClaimKind } from './claim';
import { readPlace } from './place';

export const lands: ClaimKind = (words, reading) => {
  if (words[0] !== 'lands') return null;
  const figure = /^(bb?|##?|n)?(1[13]|[1-79])$/.exec(words[1] ?? '');
  if (figure === null || words[2] !== 'at' || words.length !== 4)
    return impossible('write lands, a degree, at, and a place, such as lands 3 at 2.1');
  const place = readPlace(words[3], reading);
  if (typeof place === 'string') return impossible(place);
  const { phrase } = reading;
  const note = phrase.notes.find((one) => one.onset.compare(place.time) <= 0 && one.onset.add(one.duration).compare(place.time) > 0);
  if (note === undefined) return refuted(`nothing sounds at ${place.text}`, null);
  const span = spanAt(phrase.spans, place.time);
  if (span?.chord == null) return impossible(`no chord sounds at ${place.text}`);
  if (sameFigureSound(span.chord, { number: Number(figure[2]), accidental: figure[1] ?? '' }, note.pitch)) {
    return holds(`${formatPitch(note.pitch)} is the ${spokenFigure(words[1]!)} of ${span.symbol}`, note.index);
  }
  const right = copyable(span.chord, calledFigure(span.chord, note.pitch, { numbers: reading.numbers, blue: false }));
  return refuted(`${formatPitch(note.pitch)} there is the ${spokenFigure(right)} of ${span.symbol}`, note.index, [
    `lands ${right} at ${words[3]}`,
  ]);
};
