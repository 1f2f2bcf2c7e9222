/** Points about a stretch that no device tells: what a note is in its chord, what it becomes in the next one, what the signs mean. */
import { distanceUp, fallsFifth } from '../../analysis/harmonies';
import { bassLine } from '../../analysis/bass-line';
import type { Device } from '../../analysis/devices/device';
import { devicesAt } from '../../analysis/devices/read';
import { ofReading } from '../../analysis/of-reading';
import { kindOf } from '../../analysis/progressions';
import type { Reading } from '../../analysis/types';
import { colourOfVamp } from '../../analysis/setting';
import { chordOfPlacement, chordUnder, isDominant, isJoined, isStep } from '../../analysis/vocabulary';
import { chroma, soundClass } from '../../theory/pitch';
import type { Chord, Figure } from '../../theory/types';
import { talkOf, wordsOf } from '../device-words';
import { guideTones } from '../guide-tones';
import { minorForms } from '../minor-scales';
import { degreeWords, inRole, listed, noteName, noteNames, ofChord, theChord } from '../note-words';
import { say, type Words } from '../say';
import { breathAfter } from './breath';
import { groupsInScale } from './groups';
import { goesWithBass } from './passing-chords';
import { BESIDES, type Point } from './point';
import type { Repeat } from './repeats';
import { notesIn, type Stretch } from './stretch';

/** In no order of weight. */
export function harmonyPoints(reading: Reading, stretch: Stretch): readonly Point[] {
  return [
    ...links(reading, stretch),
    ...roleBeside(reading, stretch),
    ...lateFourth(reading, stretch),
    ...newMeaning(reading, stretch),
    ...groups(reading, stretch),
    ...colour(reading, stretch),
    ...lowered(reading, stretch),
    ...minorForm(reading, stretch),
    ...ledVoices(reading, stretch),
    ...signs(reading, stretch),
  ];
}

function isDiminished(chord: Chord | null): boolean {
  return chord !== null && kindOf(chord) === 'diminished';
}

/** A chord tone that goes by half step to a chord tone of the next chord, where no device tells it. */
function links(reading: Reading, { to }: Stretch): Point[] {
  const { phrase, notes } = reading;
  const [own, next] = [notes[to]?.placement, notes[to + 1]?.placement];
  if (
    own == null ||
    next == null ||
    own.span === next.span ||
    own.role !== 'chord-tone' ||
    next.role !== 'chord-tone' ||
    breathAfter(reading, to)
  )
    return [];
  const size = phrase.notes[to + 1]!.midi - phrase.notes[to]!.midi;
  if (goesWithBass(reading, to, to + 1) && isDiminished(phrase.spans[next.span]!.chord))
    return [
      {
        words: say`${noteName(reading, to)} ${size > 0 ? 'rises' : 'falls'} a half step to ${noteName(reading, to + 1)}, as the bass does`,
        states: false,
        weight: 5,
        notes: [to],
        target: to + 1,
      },
    ];
  // A note by way of which another one goes there has been told.
  const isWay = devicesAt(reading, to - 1).some(
    ({ kind, notes, target }) => BESIDES.has(kind) && target === to + 1 && notes.includes(to - 1),
  );
  if (
    Math.abs(size) !== 1 ||
    isWay ||
    phrase.spans[own.span]!.symbol === phrase.spans[next.span]!.symbol ||
    devicesAt(reading, to).some(({ kind, notes, target }) => target === to + 1 || (BESIDES.has(kind) && notes.includes(to)))
  )
    return [];
  return [
    {
      words: say`${noteName(reading, to)} ${size > 0 ? 'rises' : 'falls'} a half step to ${inRole(reading, to + 1)}`,
      states: false,
      weight: 5,
      notes: [to],
      target: to + 1,
    },
  ];
}

/**
 * `the Ab is the seventh of Bb7`: a dominant's seventh that falls to another tone than the third of the next chord, its b9 or b13 that falls
 * within the chord, or a third that becomes the flat third of the same root; null of any other enclosure.
 */
export function roleIn(reading: Reading, { kind, notes: own, target }: Device): { readonly note: number; readonly words: Words } | null {
  if (kind !== 'enclosure' || target === null || own.length > 2) return null;
  const isAbove = (note: number): boolean => reading.phrase.notes[note]!.midi >= reading.phrase.notes[target]!.midi;
  const note = own.find((one) => isAbove(one) && (isDominantTone(reading, one, target) || isThirdToFlatThird(reading, one, target)));
  const placement = note === undefined ? null : reading.notes[note]!.placement;
  if (note === undefined || placement === null) return null;
  const staysOpen = isFlatTension(placement.called) || reading.notes[target]!.placement === null;
  const goes = staysOpen ? '' : `, falling to ${noteName(reading, target)}`;
  return {
    note,
    words: say`the ${noteName(reading, note)} is the ${degreeWords(reading, placement)}${ofChord(reading, placement)}${goes}`,
  };
}

/** A dominant's seventh that goes to another chord, or its flat tension that goes on within it. */
function isDominantTone(reading: Reading, note: number, target: number): boolean {
  const { placement } = reading.notes[note]!;
  const chord = chordUnder(reading, note);
  if (chord === null || placement === null || !isDominant(chord)) return false;
  const isWithin = placement.span === reading.notes[target]!.placement?.span;
  return isWithin ? isFlatTension(placement.called) : placement.called.number === 7 && placement.role === 'chord-tone';
}

/** The third of a chord that is minor after the change: B over Gmaj7, Bb over Gm7. */
function isThirdToFlatThird(reading: Reading, note: number, target: number): boolean {
  const isThird = (one: number): boolean => {
    const { placement } = reading.notes[one]!;
    return placement?.role === 'chord-tone' && placement.called.number === 3;
  };
  const [from, to] = [chordUnder(reading, note), chordUnder(reading, target)];
  if (from === null || to === null || !isThird(note) || !isThird(target)) return false;
  return chroma(from.root) === chroma(to.root) && reading.phrase.notes[note]!.midi - reading.phrase.notes[target]!.midi === 1;
}

export function isFlatTension({ number, alter }: Figure): boolean {
  return number > 7 && alter < 0;
}

/** The same beside an enclosure that is told as a stretch; a resolution that is a device says it itself. */
function roleBeside(reading: Reading, { device }: Stretch): Point[] {
  const role = device === null ? null : roleIn(reading, device);
  if (role === null || devicesAt(reading, role.note).some(({ kind, target }) => BESIDES.has(kind) && target === device!.target)) return [];
  return [{ words: role.words, states: true, weight: 5, notes: [role.note], target: device!.target }];
}

/** Notes between a suspended fourth and its third, in which the ear still waits for it. */
const WAITING = 2;

/** The fourth of a suspended chord that falls to the third of the plain chord, with other notes between. */
function lateFourth(reading: Reading, { from, to, device }: Stretch): Point[] {
  const { phrase, notes } = reading;
  const isSuspended = (note: number): boolean => {
    const { placement } = notes[note]!;
    return placement !== null && placement.called.number === 4 && chordOfPlacement({ phrase }, placement)?.family === 'suspended';
  };
  return notesIn({ from, to }).flatMap((note): Point[] => {
    if (!isSuspended(note)) return [];
    const falls = (other: number): boolean => {
      const placement = notes[other]?.placement;
      const [own, next] = [
        phrase.spans[notes[note]!.placement!.span]!.chord!,
        placement == null ? null : phrase.spans[placement.span]!.chord,
      ];
      return (
        next !== null &&
        placement!.called.number === 3 &&
        placement!.role === 'chord-tone' &&
        chroma(next.root) === chroma(own.root) &&
        [1, 2].includes(phrase.notes[note]!.midi - phrase.notes[other]!.midi)
      );
    };
    const between = Array.from({ length: WAITING }, (_, i) => note + 1 + i);
    const target = between.map((one) => one + 1).find((other) => falls(other));
    if (target === undefined || falls(note + 1) || between.some((one) => one < target && (isSuspended(one) || breathAfter(reading, one))))
      return [];
    const way = between.filter((one) => one < target).map((one) => noteName(reading, one));
    const isEnclosed = device?.kind === 'enclosure' && device.target === target;
    return [
      {
        words: isEnclosed
          ? say`the ${noteName(reading, note)} is the suspended fourth (4–3)`
          : say`${noteName(reading, note)}, the suspended fourth, falls by way of ${listed(way)} to ${inRole(reading, target)} (4–3)`,
        states: isEnclosed,
        weight: 8,
        notes: [note],
        target,
      },
    ];
  });
}

/** Told where they begin. */
function groups(reading: Reading, { from, to }: Stretch): Point[] {
  const found = groupsInScale(reading);
  if (found === null || found.starts[0]! < from || found.starts[0]! > to) return [];
  const named = found.starts.map((start) => noteNames(reading, notesIn({ from: start, to: start + found.size - 1 })));
  return [
    {
      words: say`${listed(named)} are a sequence ${found.way} the scale`,
      states: false,
      weight: 8,
      notes: found.starts.flatMap((start) => notesIn({ from: start, to: start + found.size - 1 })),
      target: null,
    },
  ];
}

/** The first note of a blues that is the seventh of IV7. */
const firstSeventhOfFour = ofReading(({ phrase, notes, context: { blues } }) =>
  blues === null
    ? undefined
    : notes.find(({ placement }) => {
        const chord = chordOfPlacement({ phrase }, placement);
        return (
          chord !== null &&
          placement!.called.number === 7 &&
          placement!.role === 'chord-tone' &&
          isDominant(chord) &&
          soundClass(chroma(chord.root) - blues) === 5
        );
      }),
);

/** The blue third of I7 over IV7, of which it is the seventh: told once a phrase. */
export function newMeaning(reading: Reading, { from, to }: Pick<Stretch, 'from' | 'to'>): Point[] {
  const { phrase, notes } = reading;
  const first = firstSeventhOfFour(reading);
  // What resolves there has told it.
  if (
    first === undefined ||
    first.note < from ||
    first.note > to ||
    devicesAt(reading, first.note).some(({ kind, target }) => kind === 'guide-tone-resolution' && target === first.note)
  )
    return [];
  const was = notes
    .slice(0, first.note)
    .find(
      ({ note, placement }) =>
        placement?.blue?.number === 3 && chroma(phrase.notes[note]!.pitch) === chroma(phrase.notes[first.note]!.pitch),
    );
  return was === undefined
    ? []
    : [
        {
          words: say`${noteName(reading, first.note)}, the blue third over ${theChord(reading, was.placement!)}, is the seventh${ofChord(reading, first.placement!)}`,
          states: true,
          weight: 7,
          notes: [first.note],
          target: null,
        },
      ];
}

/** `Gb, now the seventh, resolves to F, the third of Dbmaj7`: a guide tone of a bar that comes again in its place, where it is another degree than the first time and goes on by step, at once or after one note. */
export function guideTonesNow(reading: Reading, repeat: Repeat): Point[] {
  const { copy, model, starts, to, letters } = repeat;
  const { phrase, notes } = reading;
  const target = to + 1;
  if (letters !== 0 || starts.length > 1) return [];
  const stays = firstBecomes(reading, repeat);
  if (notes[target] === undefined || breathAfter(reading, to)) return stays;
  const at = copy.findLastIndex((note) => note >= to - 1 && isLedTo(reading, note, target));
  if (at < 0) return stays;
  const [note, before] = [copy[at]!, model[at]!];
  const isNew =
    phrase.notes[note]!.midi === phrase.notes[before]!.midi &&
    notes[note]!.placement!.called.number !== notes[before]!.placement?.called.number;
  if (!isNew) return stays;
  const { clause, weight } = wordsOf('guide-tone-resolution');
  const words = clause(talkOf({ notes: [note], target, detail: '', comesAgain: true }, reading));
  return [{ words, states: false, weight, notes: [note], target }];
}

/** `Gb, the third of Ebm7, becomes the seventh`: the first note of a bar that comes again in its place over the chord a fifth below, with another note fitted to that; else nothing. */
function firstBecomes(reading: Reading, { copy: [note], model: [before], changed }: Repeat): Point[] {
  const { phrase, notes } = reading;
  const [own, was] = [notes[note!]!.placement, notes[before!]!.placement];
  if (changed.length === 0 || own?.role !== 'chord-tone' || was?.role !== 'chord-tone') return [];
  const isSame = phrase.notes[note!]!.midi === phrase.notes[before!]!.midi;
  const becomes = `${was.called.number} ${own.called.number}`;
  if (!isSame || becomes !== '3 7' || !fallsFifth(chordOfPlacement(reading, was)!, chordOfPlacement(reading, own)!)) return [];
  const words = say`${noteName(reading, note!)}, the ${degreeWords(reading, was)}${ofChord(reading, was)}, becomes the ${degreeWords(reading, own)}`;
  return [{ words, states: true, weight: 6, notes: [note!], target: null }];
}

/** Whether a seventh goes by step to the third of a chord a fifth below, or a third to its seventh. */
function isLedTo(reading: Reading, note: number, target: number): boolean {
  const [own, next] = [reading.notes[note]!.placement, reading.notes[target]!.placement];
  if (own?.role !== 'chord-tone' || next?.role !== 'chord-tone') return false;
  const [from, to] = [chordOfPlacement(reading, own)!, chordOfPlacement(reading, next)!];
  return (
    fallsFifth(from, to) &&
    ['3 7', '7 3'].includes(`${own.called.number} ${next.called.number}`) &&
    isStep(reading.phrase.notes[note]!, reading.phrase.notes[target]!)
  );
}

/** The ninth or thirteenth of a dominant that falls to the flat one where two stretches meet, and within no more half steps: `G, the ninth of F7, falls to the flat nine`. */
function lowered(reading: Reading, { to }: Stretch): Point[] {
  const { phrase, notes } = reading;
  const [own, next] = [notes[to]!.placement, notes[to + 1]?.placement];
  if (own === null || next == null || own.span !== next.span || breathAfter(reading, to)) return [];
  const isHalfStepDown = (note: number): boolean =>
    phrase.notes[note] !== undefined &&
    phrase.notes[note + 1] !== undefined &&
    phrase.notes[note]!.midi - phrase.notes[note + 1]!.midi === 1;
  const chord = phrase.spans[own.span]!.chord;
  const { number, alter } = own.called;
  const isLowered = (number === 9 || number === 13) && alter === 0 && next.called.number === number && next.called.alter === -1;
  if (chord === null || !isDominant(chord) || !isLowered || !isHalfStepDown(to) || isHalfStepDown(to - 1) || isHalfStepDown(to + 1))
    return [];
  return [
    {
      words: say`${noteName(reading, to)}, the ${degreeWords(reading, own)}${ofChord(reading, own)}, falls to the ${degreeWords(reading, next)}`,
      states: false,
      weight: 5,
      notes: [to, to + 1],
      target: null,
    },
  ];
}

/** `with A and B the line is in C melodic minor`, where the second of them is heard; a run that has both is named by the scale. */
function minorForm(reading: Reading, { from, to, device }: Stretch): Point[] {
  return minorForms(reading).flatMap(({ title, sixth, seventh }): Point[] => {
    const [first, second] = [Math.min(sixth, seventh), Math.max(sixth, seventh)];
    const isNamed = device?.kind === 'scale-run' && [first, second].every((note) => device.notes.includes(note));
    if (second < from || second > to || isNamed) return [];
    const words = say`with ${noteName(reading, sixth)} and ${noteName(reading, seventh)} the line is in ${title}`;
    return [{ words, states: true, weight: 7, notes: [first, second], target: null }];
  });
}

/** Where each of two voices of guide tones goes over a change that falls: the notes between are the other one's. What a device tells is told by that. */
function ledVoices(reading: Reading, { from, to }: Stretch): Point[] {
  const voices = guideTones(reading)?.voices ?? [];
  if (voices.length !== 2) return [];
  return voices.flatMap((voice) =>
    voice.slice(1).flatMap((target, i): Point[] => {
      const note = voice[i]!;
      const [own, next] = [chordUnder(reading, note)!, chordUnder(reading, target)!];
      const stays = reading.phrase.notes[note]!.midi === reading.phrase.notes[target]!.midi;
      const isOfDevice = devicesAt(reading, note).some(
        ({ kind, target: to }) => to === target && (kind === 'common-tone' || (BESIDES.has(kind) && !stays)),
      );
      if (note < from || note > to || isOfDevice || !(fallsFifth(own, next) || distanceUp(own, next) === 11)) return [];
      const { clause, weight } = wordsOf(stays ? 'common-tone' : 'guide-tone-resolution');
      return [{ words: clause(talkOf({ notes: [note], target, detail: '' }, reading)), states: true, weight, notes: [note], target }];
    }),
  );
}

/** The first time that the colour of a mode goes up by half step to a chord tone, and is no neighbour of it; null where it never does. */
const colourThatRises = ofReading((reading): { readonly note: number; readonly degree: string } | null => {
  const { phrase, notes } = reading;
  const colour = colourOfVamp(reading);
  if (colour === null) return null;
  const sound = chroma(phrase.notes[colour.note]!.pitch);
  const found = notes.find(({ note, placement }) => {
    const [before, own, next] = [phrase.notes[note - 1], phrase.notes[note]!, phrase.notes[note + 1]];
    const rises = next !== undefined && next.midi - own.midi === 1 && isJoined(own, next);
    return (
      rises &&
      before?.midi !== next.midi &&
      chroma(own.pitch) === sound &&
      placement !== null &&
      notes[note + 1]!.placement?.role === 'chord-tone'
    );
  });
  return found === undefined ? null : { note: found.note, degree: colour.degree };
});

/** `B, the sharp eleven, rises a half step to C, the fifth`: not where figures have it, unless the line comes to rest with that. */
function colour(reading: Reading, { from, to, as }: Stretch): Point[] {
  const { note, degree } = colourThatRises(reading) ?? { note: -1, degree: '' };
  if (note < from || note > to || as === 'repeat' || devicesAt(reading, note).some(({ kind }) => kind === 'modal-colour')) return [];
  if (to - from >= 2 && (note < to || !breathAfter(reading, note + 1))) return [];
  return [
    {
      words: say`${noteName(reading, note)}, the ${degree}${ofChord(reading, reading.notes[note]!.placement!)}, rises a half step to ${inRole(reading, note + 1)}`,
      states: false,
      weight: 5,
      notes: [note],
      target: note + 1,
    },
  ];
}

/** What `!`, a ghost note, N.C. and a slash bass mean here. */
function signs(reading: Reading, stretch: Stretch): Point[] {
  const found: Point[] = [];
  for (let note = stretch.from; note <= stretch.to; note += 1) {
    const { marks, span } = reading.phrase.notes[note]!;
    const { placement } = reading.notes[note]!;
    const point = (words: Words, weight: number): void => void found.push({ words, states: false, weight, notes: [note], target: null });
    if (marks.includes('intended') && placement !== null && (placement.role === 'avoid' || placement.role === 'outside')) {
      point(say`${inRole(reading, note)}, is meant to rub (!)`, 9);
    }
    if (marks.includes('ghost')) point(say`${noteName(reading, note)} is a ghost note, felt more than heard`, 5);
    const isFirst = note === 0 || reading.phrase.notes[note - 1]!.span !== span;
    const written = span === null ? null : reading.phrase.spans[span]!;
    if (written === null || !isFirst) continue;
    if (written.chord === null && written.symbol === 'N.C.') point(['no chord sounds under it (N.C.)'], 6);
    const bass = written.chord?.bass ?? null;
    // An inversion is in its symbol; what the chord does not hold is heard.
    if (
      bass !== null &&
      !written.chord!.tones.some(({ name }) => chroma(name) === chroma(bass)) &&
      bassLine(reading.phrase.spans).length === 0
    )
      point(say`${written.symbol.split('/').pop()!} lies in the bass under ${written.symbol.slice(0, written.symbol.lastIndexOf('/'))}`, 5);
  }
  return found;
}
