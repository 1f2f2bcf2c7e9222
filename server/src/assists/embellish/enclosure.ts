import { isBasicTone } from '../../analysis/vocabulary';
import { ONE } from '../../model/time';
import type { PlacedGroup } from '../../model/types';
import { formatNoteName, midi, pitchInText } from '../../theory/pitch';
import type { Pitch, Scale } from '../../theory/types';
import { tried, type Assist, type AssistContext, type Offer } from '../assist';
import { leaningNote, scaleNoteBeside } from '../writing/neighbours';
import { offerPlan } from '../writing/offer-plan';
import { editsOf, isRewritable, pitchText, readable, shownNames, slotsAsWritten, type NewSlot } from '../writing/plan';
import { verified } from '../writing/verified';
import { valueWords, withChanges } from '../writing/value-words';
import { formIn, leadsAlready, roomsFor } from './lead-in';
import { plainFirst } from './room';
import { targetHere, type Target } from './target';

export const enclosure: Assist = {
  id: 'enclosure',
  kind: 'refactor.rewrite.enclosure',
  what: 'Wraps a chord tone in an enclosure of two, three or four notes, from above and below, diatonic or chromatic; its form says whose time it takes. A flagged note becomes the chord tone it should reach.',
  repeats: true,
  offers(context) {
    const target = targetHere(context);
    if (target === null) return [];
    const seen = new Set<string>();
    const distinct = wrappings(target).filter(({ notes }) => {
      const key = notes.map(midi).join(' ');
      return !seen.has(key) && !leadsAlready(context, target, notes) && seen.add(key);
    });
    return wrap(context, target, distinct);
  },
};

interface Wrapping {
  readonly shape: string;
  readonly kind: 'diatonic' | 'chromatic' | 'mixed';
  readonly notes: readonly Pitch[];
}

/** The shapes, each with scale neighbours and with half steps; a further note on a side is the half step inside the whole step. */
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
    { shape: 'two above–two below', kind: 'chromatic', notes: [above2, above1, below2, below1] },
    { shape: 'two below–two above', kind: 'chromatic', notes: [below2, below1, above2, above1] },
  ];
  const isBasic = (note: Pitch): boolean => isBasicTone(chord, note);
  return all.filter(({ notes }) => !notes.every(isBasic));
}

function scaleSide(scale: Scale | null, target: Pitch, side: 'above' | 'below'): Pitch | null {
  const found = scale === null ? null : scaleNoteBeside(scale, midi(target), side);
  return found !== null && Math.abs(midi(found) - midi(target)) <= 2 ? found : null;
}

/** Once for each place the time may come from, first what keeps the eighths. */
function wrap(context: AssistContext, target: Target, wrappings: readonly Wrapping[]): Offer[] {
  const { phrase } = context.reading;
  const own = slotsAsWritten(phrase.groups[target.group]!);
  if (target.rule !== null) own[0] = { kind: 'pitch', pitch: target.pitch, like: target.note };
  const before = phrase.groups[target.group - 1];
  const titleOf = ({ notes }: Wrapping): string => {
    const names = shownNames(phrase, notes, before ?? phrase.groups[target.group]!).join('-');
    return `Enclose ${formatNoteName(target.pitch)}: ${names} ${formatNoteName(target.pitch)}`;
  };
  if (before === undefined)
    return plainFirst(wrappings, ({ notes }) => pickupValues(notes, phrase.groups[target.group]!) === '').flatMap((wrapping) =>
      asPickup(context, target, wrapping, own, titleOf(wrapping)),
    );
  if (!isRewritable(phrase, before)) return [];
  const kind = {
    repaired: target.rule === null ? null : target.note.index,
    repairs: target.rule,
    preferred: false,
    device: { kind: 'enclosure' as const, at: target.note.onset },
  };
  const forms = wrappings.flatMap((wrapping) => roomsFor(context, before, wrapping.notes).map((room) => ({ wrapping, room })));
  return plainFirst(forms, ({ room }) => room.isPlain).flatMap(({ wrapping, room }) => {
    const { shape } = wrapping;
    const form = { ...formIn(room, `${shape}, ${wrapping.kind}`, `Enclose each target ${shape} (${wrapping.kind})`), shape };
    return offerPlan(
      context,
      new Map([
        [target.group - 1, room.slots],
        [target.group, own],
      ]),
      withChanges(titleOf(wrapping), room.changes),
      kind,
      form,
    );
  });
}

/** The time values of a pickup of one beat, as a title says them. */
function pickupValues(notes: readonly Pitch[], { duration, beats }: PlacedGroup): string {
  return valueWords({ slots: [], duration: duration.div(beats), beats: ONE }, notes.length);
}

/** At the very start of a phrase the enclosure becomes a pickup of one beat. */
function asPickup(
  context: AssistContext,
  target: Target,
  { notes, shape, kind }: Wrapping,
  own: readonly NewSlot[],
  title: string,
): Offer[] {
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
  const first = pitchInText(readable(phrase, notes[0]!, group.onset));
  const lead = [first, ...texts.slice(1)];
  if (lead.includes(null)) return [];
  const at = { start: bar.node.open.start, end: bar.node.open.start };
  const pickup = { range: at, text: `${lead.join('-')} ` };
  const rest = editsOf(phrase, new Map([[target.group, own]]), notes[notes.length - 1]!);
  if (rest === null) return [];
  return tried(context, { repairs: target.rule }, () => {
    const sound = verified(context, [pickup, ...rest], {
      repaired: target.rule === null ? null : target.note.index,
      groups: [target.group],
      pickup: true,
      device: { kind: 'enclosure', at: target.note.onset },
    });
    return sound === null
      ? []
      : [
          {
            title: withChanges(title, pickupValues(notes, group)),
            detail: `${shape}, ${kind}, as a pickup`,
            shape,
            edits: sound,
            repairs: target.rule,
            preferred: false,
          },
        ];
  });
}
