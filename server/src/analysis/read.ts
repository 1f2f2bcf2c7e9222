/** The reading of a phrase: every note over every chord it sounds in, what excuses it, and what is to be said of it. */
import type { Note, Phrase } from '../model/types';
import { beatOf } from '../model/line';
import { calledFigure } from '../theory/called';
import { keyScale } from '../theory/key';
import { chroma } from '../theory/pitch';
import type { Scale } from '../theory/types';
import { anticipationOf } from './anticipation';
import { blueNoteOf, blueNotes } from './blue';
import { chordScales } from './chord-scales';
import { excuseOf, type MelodicContext } from './excuse';
import { falls, fallsFifth, harmonicContext, isPlainTriad, targetOf, type HarmonicContext, type Harmony } from './harmonies';
import { isMinor } from './vocabulary';
import { ofReading } from './of-reading';
import { placesOf, type Places } from './places';
import { roleOf, type ChordInPlace } from './role';
import { sideSlipsOf } from './side-slips';
import type { NoteReading, Reading, Role, Sounding, ChordPlacement, TheoryOptions } from './types';
import { verdictOf } from './verdict';

export const DEFAULT_THEORY: TheoryOptions = {
  profile: 'melodic',
  natural9OfHalfDiminished: true,
  flat6OfTonicMinor: false,
  thirteenthOfLydianAugmented: false,
  thirdOfSuspended: true,
  numbers: 'tensions',
};

const memory = new WeakMap<Phrase, { readonly options: TheoryOptions; readonly reading: Reading }>();

/** Reads a phrase; the same phrase under the same options is read once. Never throws on a phrase that was built. */
export function readPhrase(phrase: Phrase, options: TheoryOptions): Reading {
  const known = memory.get(phrase);
  if (known !== undefined && sameOptions(known.options, options)) return known.reading;
  const reading = readAfresh(phrase, options);
  memory.set(phrase, { options, reading });
  return reading;
}

/** Whether two sets of options say the same. */
export function sameOptions(a: TheoryOptions, b: TheoryOptions): boolean {
  return a === b || (Object.keys(a) as (keyof TheoryOptions)[]).every((key) => a[key] === b[key]);
}

function readAfresh(phrase: Phrase, options: TheoryOptions): Reading {
  const context = harmonicContext(phrase);
  const scales = chordScales(phrase, context);
  const hearing: Hearing = {
    phrase,
    context,
    options,
    places: placesOf(phrase, context),
    inPlace: context.harmonies.map((harmony, i) => placeOfHarmony(harmony, scales[i]!, context)),
    blue: new Set(),
  };
  return readIn(
    hearing,
    phrase.spans.map((_, i) => scales[context.ofSpan[i]!]!),
  );
}

/** Some bars of a phrase that was read, as they are or otherwise written, in its harmony: the scales are taken as those of the whole. */
export function readExcerpt(whole: Reading, excerpt: Phrase, options: TheoryOptions): Reading {
  const { context, scales, phrase } = whole;
  const places = placesOf(phrase, context);
  return readIn({ phrase: excerpt, context, options, places, inPlace: placesInHarmony(whole), blue: new Set() }, scales);
}

const placesInHarmony = ofReading(({ context, scales }): Hearing['inPlace'] =>
  context.harmonies.map((harmony) => placeOfHarmony(harmony, scales[harmony.span.index]!, context)),
);

/** Hears and judges the notes; `scales` has one for each span. */
function readIn(hearing: Hearing, scales: Reading['scales']): Reading {
  const { phrase, context, options } = hearing;
  const heard: Hearing = { ...hearing, blue: blueNotes(phrase, context, hearing.places) };
  const drafts = phrase.notes.map((note) => hear(note, heard));
  const { places } = heard;
  const slips = sideSlipsOf({ phrase, places, scales, notes: drafts });
  const melody: MelodicContext = { phrase, places, roles: drafts.map((draft) => draft.placement?.role ?? null), slips };
  return {
    phrase,
    context,
    scales,
    notes: drafts.map((draft) => judge(draft, phrase.notes[draft.note]!, melody)),
    slips,
    numbers: options.numbers,
  };
}

interface Hearing {
  readonly phrase: Phrase;
  readonly context: HarmonicContext;
  readonly options: TheoryOptions;
  readonly places: Places;
  readonly inPlace: readonly (ChordInPlace | null)[];
  readonly blue: ReadonlySet<number>;
}

/** A harmony with what its place in the phrase makes of it; null over N.C. and an unread chord. */
export function placeOfHarmony(harmony: Harmony, scale: Scale | null, context: HarmonicContext): ChordInPlace | null {
  const { chord } = harmony;
  if (chord === null) return null;
  const goesDown = fallsFifth(chord, targetOf(context, harmony));
  const { tonic } = context;
  return {
    chord,
    scale,
    falls: falls(context, harmony),
    triadFalls: goesDown && (isPlainTriad(chord) || chord.family === 'major-sixth'),
    keyNotes: keyNotesOver(harmony, scale, context),
    tonicMinor: isMinor(chord) && tonic?.mode === 'minor' && chroma(tonic.tonic) === chroma(chord.root),
  };
}

/** The notes of a major key over its iii and vi where they take dorian for the dominant that follows. */
function keyNotesOver({ chord, span }: Harmony, scale: Scale | null, { tonic }: HarmonicContext): ReadonlySet<number> | null {
  if (chord === null || tonic?.mode !== 'major' || span.statedScale !== null || scale?.name !== 'dorian' || !isMinor(chord)) return null;
  const above = (chroma(chord.root) - chroma(tonic.tonic) + 12) % 12;
  return above === 4 || above === 9 ? keyScale(tonic).sounds : null;
}

/** A note before it is judged. */
type Draft = Omit<NoteReading, 'verdict'>;

function hear(note: Note, hearing: Hearing): Draft {
  const { places } = hearing;
  const pickup = note.bar === 0;
  const own = places.harmonyAt(note.onset);
  const next = heardEarly(note, own, hearing);
  const first = next ?? own;
  const placement = first === null ? null : placementOver(note, first, hearing);
  const strong = !pickup && places.isStrong(note.onset);
  const end = note.onset.add(note.duration);
  const soundings: { -readonly [K in keyof Sounding]: Sounding[K] }[] =
    placement === null
      ? []
      : [{ at: note.onset, bar: note.bar, beat: note.beat, strong, held: false, placement, until: end, excuse: null }];
  for (let change = places.nextChange(note.onset); change !== null && change.at.compare(end) < 0; change = places.nextChange(change.at)) {
    // An anticipation already sounds against the chord that comes in.
    if (change.harmony === next) continue;
    const held = placementOver(note, change.harmony, hearing);
    if (held === null) continue;
    const into = places.barAt(change.at);
    if (soundings.length > 0) soundings[soundings.length - 1]!.until = change.at;
    soundings.push({
      at: change.at,
      bar: into.number,
      beat: beatOf(change.at, into),
      strong: true,
      held: true,
      placement: held,
      until: end,
      excuse: null,
    });
  }
  return { note: note.index, placement, strong, anticipation: next !== null, pickup, soundings };
}

/**
 * The harmony that a note anticipates and is heard against; null for its own. One on a beat that is left before the change is early only over a
 * dominant that falls, or where it clashes with its own chord.
 */
function heardEarly(note: Note, own: number | null, hearing: Hearing): number | null {
  const { context, places } = hearing;
  const early = anticipationOf(note, hearing);
  if (early === null || own === null || early.how === 'struck-again') return null;
  if (early.how === 'held' || !places.isOnBeat(note.onset) || falls(context, context.harmonies[own]!)) return early.harmony;
  const placement = placementOver(note, own, hearing);
  return placement === null || isClash(placement.role) ? early.harmony : null;
}

function placementOver(note: Note, harmony: number, { inPlace, context, options, blue }: Hearing): ChordPlacement | null {
  const place = inPlace[harmony];
  if (place == null) return null;
  const { figure, role, borrowed, against, ofKey } = roleOf(note.pitch, place, options);
  const isBlue = (role === 'avoid' || role === 'outside' || borrowed) && blue.has(note.index);
  const blueNote = isBlue ? blueNoteOf(note.pitch, place.chord, context) : null;
  const called = calledFigure(place.chord, note.pitch, { numbers: options.numbers, blue: blueNote !== null && blueNote.atHome });
  return {
    span: context.harmonies[harmony]!.span.index,
    figure,
    called,
    role: isBlue ? 'blue' : role,
    blue: blueNote,
    borrowed: borrowed && !isBlue,
    against,
    ofKey,
  };
}

function judge(draft: Draft, note: Note, context: MelodicContext): NoteReading {
  const { placement, strong, anticipation, pickup } = draft;
  // A pickup is never reported, so nothing need excuse it.
  const clashes = !pickup && draft.soundings.some((sounding) => isClash(sounding.placement.role));
  const soundings = clashes
    ? draft.soundings.map((sounding) =>
        isClash(sounding.placement.role) ? { ...sounding, excuse: excuseOf(note, sounding, context) } : sounding,
      )
    : draft.soundings;
  const verdict = pickup || note.marks.includes('intended') ? null : verdictOf({ soundings }, note, context);
  // Field by field: copying one object into another takes many times as long, for every note of a file.
  return { note: draft.note, placement, strong, anticipation, pickup, soundings, verdict };
}

function isClash(role: Role): boolean {
  return role === 'avoid' || role === 'outside';
}
