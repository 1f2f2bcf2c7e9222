import type { TextEdit } from '../../../../grammar/tree';
import type { Reading } from '../../analysis/types';
import { respelling, spellWords } from '../../rules/respelling';
import { figureName } from '../../theory/figure';
import { chroma, sameName, soundClass } from '../../theory/pitch';
import { hasTwoNames } from '../../theory/two-names';
import type { NoteName } from '../../theory/types';
import type { Assist } from '../assist';
import { isAtTitle } from '../writing/phrase-title';
import { rowAtKeyword } from '../writing/row-keyword';
import { sameSound } from '../writing/same-sound';

export const respell: Assist = {
  id: 'respell',
  kind: 'refactor.rewrite.spelling',
  what: 'Spells a note, or every note of a phrase, by its chord and key: chord notes by the chord, chromatic notes as sharps on the way up and flats on the way down. What players read under two names (a #9 as a b3, B for Cb) keeps its own.',
  offers(context) {
    const { phrase } = context.reading;
    const isPhrase = isAtTitle(context) || rowAtKeyword(context, 'line') !== null;
    const notes = isPhrase ? phrase.notes.map(({ index }) => index) : context.note === null ? [] : [context.note];
    const changes = notes.flatMap((index) => better(context.reading, index));
    if (changes.length === 0) return [];
    const said = changes.map(({ from, to }) => spellWords(from, to));
    return sameSound(
      context,
      changes.map(({ edit }) => edit),
      `Spell ${said.slice(0, 4).join(', ')}${said.length > 4 ? ` and ${said.length - 4} more` : ''}`,
    );
  },
};

interface Change {
  readonly from: NoteName;
  readonly to: NoteName;
  readonly edit: TextEdit;
}

function better(reading: Reading, index: number): Change[] {
  const note = reading.phrase.notes[index]!;
  const name = preferredName(reading, index);
  if (name === null || sameName(name, note.pitch)) return [];
  const edit = respelling(note, name);
  return edit === null ? [] : [{ from: note.pitch, to: name, edit }];
}

/** How a note is spelled best: by its degree where it belongs to chord or scale, else by where it goes. Null where it is well as it is, or nothing tells. */
function preferredName(reading: Reading, index: number): NoteName | null {
  const { placement } = reading.notes[index]!;
  const note = reading.phrase.notes[index]!;
  if (placement === null) return null;
  const chord = reading.phrase.spans[placement.span]!.chord!;
  const scale = reading.scales[placement.span] ?? null;
  const belongs =
    placement.role === 'chord-tone' || placement.role === 'tension' || placement.role === 'avoid' || placement.role === 'blue';
  if (belongs) {
    const inScale = scale?.tones.find((tone) => chroma(tone.name) === chroma(note.pitch));
    const name =
      placement.role === 'chord-tone'
        ? figureName(chord.root, placement.figure)
        : (inScale?.name ?? figureName(chord.root, placement.figure));
    if (Math.abs(note.pitch.alter) <= 1 && hasTwoNames(chord, placement.figure, name))
      return placement.role === 'chord-tone' ? null : byDirection(reading, index);
    return Math.abs(name.alter) <= 1 ? name : null;
  }
  return byDirection(reading, index);
}

/** As a sharp where the next note is a half step higher, as a flat where it is one lower; null elsewhere. */
function byDirection({ phrase }: Reading, index: number): NoteName | null {
  const note = phrase.notes[index]!;
  const next = phrase.notes[index + 1];
  const step = next === undefined ? 0 : next.midi - note.midi;
  return Math.abs(step) === 1 ? leaning(note.midi, step > 0 ? 1 : -1) : null;
}

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;
const FLATS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

function leaning(sound: number, way: 1 | -1): NoteName {
  const text = (way === 1 ? SHARPS : FLATS)[soundClass(sound)]!;
  return { letter: text[0] as NoteName['letter'], alter: text.length === 1 ? 0 : way };
}
