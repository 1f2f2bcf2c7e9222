/** The hover of a note: what it is, where it falls, what it does, and why it is flagged or not. */
import { firstExcuse } from '../../analysis/excuse';
import { devicesAt } from '../../analysis/devices/read';
import { placesOf } from '../../analysis/places';
import { shownFigure } from '../../analysis/shown-figure';
import type { NoteReading, Reading, Sounding } from '../../analysis/types';
import { isStep, nextOther } from '../../analysis/vocabulary';
import { guarded } from '../../model/faults';
import { formatPitch } from '../../theory/pitch';
import { resolution } from '../../rules/clash';
import { excuseFacts } from '../../rules/clash-facts';
import { ruleById } from '../../rules/registry';
import { beatWords } from '../../rules/words';
import { problemsAbout } from '../../rules/findings';
import { deviceName, deviceWords } from '../../explain/device-words';
import { listed } from '../../explain/note-words';
import { figureWords, roleWords, scaleWords } from './words';

/** Markdown, one fact a line; a line that breaks off is missing, and no other. */
export function noteHover(reading: Reading, index: number): string {
  const note = reading.phrase.notes[index]!;
  const read = reading.notes[index]!;
  const part = (of: string, lines: () => readonly string[]): readonly string[] => guarded(`what a hover says of ${of}`, [], lines);
  const lines = [
    ...part('the degree of a note', () => [headline(reading, read)]),
    ...part('the place of a note', () => [placeLine(reading, read)]),
    ...part('a note that is held', () => read.soundings.filter((one) => one.held).map((sounding) => heldLine(reading, sounding))),
    ...part('where a note goes', () => motionLines(reading, read)),
    ...part('the devices of a note', () => deviceLines(reading, index)),
    ...part('why a note is flagged or not', () => verdictLines(reading, index)),
    ...(note.cell === null ? [] : [`From the cell \`${note.cell.name}\`.`]),
  ];
  return lines.filter((line) => line !== '').join('\n\n');
}

function headline(reading: Reading, { note: index, placement }: NoteReading): string {
  const pitch = formatPitch(reading.phrase.notes[index]!.pitch);
  if (placement === null) return `**${pitch}**: no chord sounds here.`;
  const { symbol } = reading.phrase.spans[placement.span]!;
  const scale = reading.scales[placement.span];
  const borrowed = placement.borrowed ? ', borrowed' : '';
  const over = scale == null ? `\`${symbol}\`` : `\`${symbol}\` (${scaleWords(scale)})`;
  return `**${pitch}** is the **${shownFigure(reading, placement)}** of ${over}: ${figureWords(reading, index, placement)}, ${roleWords(placement.role)}${borrowed}.`;
}

function placeLine(reading: Reading, read: NoteReading): string {
  const note = reading.phrase.notes[read.note]!;
  if (read.pickup) return `In the pickup, ${beatWords(note.beat)}.`;
  return `Bar ${note.bar}, ${beatWords(note.beat)}: ${read.strong ? 'a strong place' : 'not a strong place'}.`;
}

function heldLine(reading: Reading, { placement, bar, beat }: Sounding): string {
  const { symbol } = reading.phrase.spans[placement.span]!;
  return `Held into \`${symbol}\` (bar ${bar}, ${beatWords(beat)}), where it is the **${shownFigure(reading, placement)}**, ${roleWords(placement.role)}.`;
}

function motionLines(reading: Reading, read: NoteReading): string[] {
  const note = reading.phrase.notes[read.note]!;
  const lines: string[] = [];
  if (read.anticipation) lines.push('It anticipates the next chord, and is heard against that.');
  const next = nextOther(note, { phrase: reading.phrase, places: placesOf(reading.phrase, reading.context) });
  if (next !== null && isStep(note, next)) {
    const placement = reading.notes[next.index]!.placement;
    const way = next.midi < note.midi ? 'down' : 'up';
    const to = placement === null ? '' : `, the ${shownFigure(reading, placement)} of \`${reading.phrase.spans[placement.span]!.symbol}\``;
    lines.push(`It goes ${way} by step to ${formatPitch(next.pitch)}${to}.`);
  }
  return lines;
}

/** The devices that the note takes part in, or is the target of; a cell that an arpeggio tells already is not said again. */
function deviceLines(reading: Reading, index: number): string[] {
  const all = devicesAt(reading, index);
  const arpeggios = all.filter(({ kind }) => kind === 'arpeggio').map(({ notes }) => new Set(notes));
  return all
    .filter(({ kind, notes }) => kind !== 'cell' || !arpeggios.some((arpeggio) => notes.every((note) => arpeggio.has(note))))
    .map((device) => `**${device.kind.replaceAll('-', ' ')}**: ${deviceWords(device, reading)}.`);
}

function verdictLines(reading: Reading, index: number): string[] {
  const note = reading.phrase.notes[index]!;
  const read = reading.notes[index]!;
  if (read.verdict?.level === 'hint')
    return problemsAbout(reading, index)
      .filter(({ about }) => about!.sounding !== null)
      .map(({ rule, facts }) => ruleById(rule)!.message(facts));
  if (read.verdict !== null) return [whyFlagged(reading, read)];
  const clashing = read.soundings.some(({ placement }) => placement.role === 'avoid' || placement.role === 'outside');
  if (!clashing) return [];
  if (note.marks.includes('intended')) return ['Not flagged: it is marked as intended (`!`).'];
  if (read.pickup) return ['Not flagged: a pickup is never reported.'];
  const excuse = firstExcuse(read);
  if (excuse !== null) return [`Not flagged: it ${resolution(excuseFacts(reading, index, excuse, formatPitch))}.`];
  return ['Not flagged: it is short and off the beat.'];
}

/** The finding itself stands above in the same hover; here is why nothing excuses it. */
function whyFlagged(reading: Reading, { note, verdict, soundings }: NoteReading): string {
  const beats = soundings[verdict!.sounding]!.placement.role === 'avoid' ? 'two beats' : 'a beat';
  // Devices of the note stand above; a reader must know which of the two counts.
  const kinds = [
    ...new Set(
      devicesAt(reading, note)
        .filter(({ notes }) => notes.includes(note))
        .map(({ kind }) => deviceName(kind)),
    ),
  ];
  const despite = kinds.length === 0 ? '' : `, and the ${listed(kinds)} above ${kinds.length === 1 ? 'does' : 'do'} not excuse it`;
  return `Flagged${despite}: within ${beats} it neither moves by step to a chord tone, nor runs by half steps into one, nor helps to enclose one.`;
}
