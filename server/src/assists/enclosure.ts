import { goalOf } from '../rules/clash-facts';
import type { Note, PlacedGroup } from '../model/types';
import { chroma, formatNoteName, midi } from '../theory/pitch';
import type { Chord, Pitch, Scale } from '../theory/types';
import type { Assist, AssistContext, Offer } from './assist';
import { flaggedNote, offerPlan, placeOf } from './flagged';
import { leaningNote, scaleNoteBeside } from './neighbours';
import { isRewritable, pitchText, slotsAsWritten, verified, type NewSlot } from './rewrite';

export const enclosure: Assist = {
  id: 'enclosure',
  kind: 'refactor.rewrite.enclosure',
  what: 'Wraps a chord tone in an enclosure of two or three notes, from above and below, diatonic or chromatic; time is taken from what stands before. A flagged note becomes the chord tone it should reach.',
  offers(context) {
    const target = targetHere(context);
    if (target === null) return [];
    const seen = new Set<string>();
    return wrappings(target).flatMap((wrapping) => {
      const key = wrapping.notes.map(midi).join(' ');
      if (seen.has(key)) return [];
      seen.add(key);
      return wrap(context, target, wrapping);
    });
  },
};

/** A chord tone on a beat, where the line is to arrive. */
interface Target {
  readonly pitch: Pitch;
  readonly chord: Chord;
  readonly scale: Scale | null;
  /** The note that stands there now: the target itself, or a flagged note. */
  readonly note: Note;
  readonly rule: string | null;
  readonly group: number;
}

function targetHere(context: AssistContext): Target | null {
  const { reading, note: index } = context;
  if (index === null) return null;
  const read = reading.notes[index]!;
  const place = placeOf(context, index);
  if (place === null || place.slot !== 0 || read.standing === null || read.pickup) return null;
  const flagged = flaggedNote(context);
  const sounding = flagged === null ? read.soundings[0]! : read.soundings[read.verdict!.sounding]!;
  const chord = reading.phrase.spans[sounding.standing.span]!.chord;
  const note = reading.phrase.notes[index]!;
  if (chord === null || sounding.held || note.beat.includes('+')) return null;
  const pitch = flagged === null ? note.pitch : goalOf(reading, read, sounding);
  if (pitch === null || !chord.tones.some((tone) => tone.basic && chroma(tone.name) === chroma(pitch))) return null;
  return { pitch, chord, scale: reading.scales[sounding.standing.span] ?? null, note, rule: flagged?.rule ?? null, group: place.group };
}

interface Wrapping {
  readonly shape: string;
  readonly kind: 'diatonic' | 'chromatic' | 'mixed';
  readonly notes: readonly Pitch[];
}

/** The four shapes, each with scale neighbours and with half steps; a third note on a side is the half step inside the whole step. */
function wrappings({ pitch, chord, scale }: Target): Wrapping[] {
  const above1 = leaningNote(pitch, 1, 'above');
  const below1 = leaningNote(pitch, 1, 'below');
  const above2 = leaningNote(pitch, 2, 'above');
  const below2 = leaningNote(pitch, 2, 'below');
  const above = scaleSide(scale, pitch, 'above') ?? above1;
  const below = scaleSide(scale, pitch, 'below') ?? below1;
  const all: Wrapping[] = [
    { shape: 'above–below', kind: 'diatonic', notes: [above, below] },
    { shape: 'below–above', kind: 'diatonic', notes: [below, above] },
    { shape: 'above–below', kind: 'chromatic', notes: [above1, below1] },
    { shape: 'below–above', kind: 'chromatic', notes: [below1, above1] },
    { shape: 'two above–one below', kind: 'mixed', notes: [above2, above1, below] },
    { shape: 'two below–one above', kind: 'mixed', notes: [below2, below1, above] },
    { shape: 'two above–one below', kind: 'chromatic', notes: [above2, above1, below1] },
    { shape: 'two below–one above', kind: 'chromatic', notes: [below2, below1, above1] },
  ];
  const isBasic = (note: Pitch): boolean => chord.tones.some((tone) => tone.basic && chroma(tone.name) === chroma(note));
  return all.filter(({ notes }) => !notes.every(isBasic));
}

function scaleSide(scale: Scale | null, target: Pitch, side: 'above' | 'below'): Pitch | null {
  const found = scale === null ? null : scaleNoteBeside(scale, midi(target), side);
  return found !== null && Math.abs(midi(found) - midi(target)) <= 2 ? found : null;
}

function wrap(context: AssistContext, target: Target, wrapping: Wrapping): Offer[] {
  const { phrase } = context.reading;
  const names = wrapping.notes.map(formatNoteName).join('-');
  const title = `Wrap ${formatNoteName(target.pitch)} in an enclosure ${wrapping.shape} (${wrapping.kind}): ${names} ${formatNoteName(target.pitch)}`;
  const own = slotsAsWritten(phrase.groups[target.group]!);
  if (target.rule !== null) own[0] = { kind: 'pitch', pitch: target.pitch, like: target.note };
  const before = phrase.groups[target.group - 1];
  if (before === undefined) return asPickup(context, target, wrapping, own, title);
  if (!isRewritable(phrase, before)) return [];
  const room = makeRoom(before, wrapping.notes);
  if (room === null) return [];
  const kind = { repaired: target.rule === null ? null : target.note.index, repairs: target.rule, preferred: false };
  return offerPlan(context, new Map([[target.group - 1, room], [target.group, own]]), title, kind);
}

/**
 * The group before the target, divided so that the approach notes come last. A hold or a rest gives all its time; a note keeps
 * its beginning, and so does the first note of a divided beat.
 */
function makeRoom(before: PlacedGroup, notes: readonly Pitch[]): NewSlot[] | null {
  const beats = Number(before.beats.valueOf());
  if (!Number.isInteger(beats) || beats < 1) return null;
  const fresh = notes.map((pitch): NewSlot => ({ kind: 'pitch', pitch, like: null }));
  const slots = slotsAsWritten(before);
  if (slots.length === 1) return divideOne(slots[0]!, beats, fresh);
  if (beats !== 1) return null;
  // Nothing is lost where the pair fits into sixteenths; else the notes after the first, off the beat, make room.
  const kept = slots.length === 2 && fresh.length === 2 ? slots : slots.slice(0, Math.max(1, slots.length - fresh.length));
  return [...kept, ...fresh];
}

function divideOne(slot: NewSlot, beats: number, fresh: readonly NewSlot[]): NewSlot[] {
  const gives = slot.kind === 'hold' || slot.kind === 'rest';
  if (beats === 1) return gives ? [...fresh] : [slot, ...fresh];
  const eighths = 2 * beats;
  const filling: NewSlot = slot.kind === 'rest' ? { kind: 'rest' } : { kind: 'hold' };
  return [slot, ...Array<NewSlot>(eighths - fresh.length - 1).fill(filling), ...fresh];
}

/** At the very start of a phrase the enclosure becomes a pickup of one beat. */
function asPickup(context: AssistContext, target: Target, { notes }: Wrapping, own: readonly NewSlot[], title: string): Offer[] {
  const { phrase } = context.reading;
  const group = phrase.groups[target.group]!;
  const bar = phrase.bars[0];
  if (bar?.number !== 1 || bar.node?.open == null) return [];
  let previous: Pitch | null = null;
  const texts = notes.map((pitch) => {
    const text = pitchText(phrase, pitch, null, previous, group);
    previous = pitch;
    return text;
  });
  // The first note of a phrase has no note before it to be near to: it needs its octave.
  const first = `${formatNoteName(notes[0]!)}${notes[0]!.octave}`;
  const at = { start: bar.node.open.start, end: bar.node.open.start };
  const pickup = { range: at, text: `${[first, ...texts.slice(1)].join('-')} ` };
  const rest = own.map((slot) => (slot.kind === 'pitch' ? `${formatNoteName(slot.pitch)}${slot.pitch.octave}` : null));
  const head = rest[0] == null ? [] : [{ range: target.note.node.head.range, text: rest[0] }];
  const sound = verified(context, [pickup, ...head], { repaired: target.rule === null ? null : target.note.index, groups: [target.group], pickup: true });
  return sound === null ? [] : [{ title, edits: sound, repairs: target.rule, preferred: false }];
}
