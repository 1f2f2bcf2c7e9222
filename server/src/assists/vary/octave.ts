import { soundingRange } from '../../theory/part';
import { midi } from '../../theory/pitch';
import type { Assist, AssistContext, Offer } from '../assist';
import { lineText } from '../writing/kept-bars';
import { isAtTitle } from '../writing/phrase-title';
import { rowAtKeyword } from '../writing/row-keyword';
import { soundsOf, type Sound } from '../writing/score';
import { isWhole, replacing } from '../writing/whole-phrase';

export const octave: Assist = {
  id: 'octave',
  kind: 'refactor.rewrite.octave',
  what: 'Moves a line, or the selected notes, up or down by an octave.',
  offers(context) {
    const { phrase } = context.reading;
    if (!isWhole(phrase)) return [];
    const isStretch = context.selected.length > 1;
    if (!isStretch && !isAtTitle(context) && rowAtKeyword(context, 'line') === null) return [];
    const notes = new Set(isStretch ? context.selected : phrase.notes.map(({ index }) => index));
    const what = isStretch ? `the ${notes.size} selected notes` : 'the line';
    return [...moved(context, notes, 1, `Move ${what} up an octave`), ...moved(context, notes, -1, `Move ${what} down an octave`)];
  },
};

/** Offered only where the part can play it. */
function moved(context: AssistContext, notes: ReadonlySet<number>, by: 1 | -1, title: string): Offer[] {
  const { phrase } = context.reading;
  const { low, high } = soundingRange(phrase.part);
  const fits = [...notes].every(
    (index) => phrase.notes[index]!.midi + 12 * by >= midi(low) && phrase.notes[index]!.midi + 12 * by <= midi(high),
  );
  if (!fits) return [];
  const sounds = soundsOf(phrase).map(
    (sound, i): Sound => (notes.has(i) ? { ...sound, pitch: { ...sound.pitch, octave: sound.pitch.octave + by } } : sound),
  );
  const wanted = sounds.map(({ pitch }) => midi(pitch)).join(' ');
  return replacing(context, lineText(context, sounds), title, (after) => after.phrase.notes.map((note) => note.midi).join(' ') === wanted);
}
