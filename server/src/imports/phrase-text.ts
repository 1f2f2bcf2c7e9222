/** A passage of a tune as the text of a `phrase`. */
import type { Fraction } from '../model/fraction';
import { later, meterText } from '../model/time';
import { formatKey } from '../theory/key';
import { formatNoteName, formatPitch, midi, nameOf, nearestOctave, nextAbove, nextBelow } from '../theory/pitch';
import type { Pitch } from '../theory/types';
import type { CutPhrase } from './cut';
import { overBar, placedChords, type BarChord } from './over';
import type { Report } from './report';
import { barText, isWritable, MOST_SLOTS, onGrid, type BeatNote } from './rhythm';
import type { TuneBar, TuneNote } from './types';

const BARS_A_SYSTEM = 4;
/** Of a phrase that names none. */
const DEFAULT_METER = '4/4';
/** More shares than one: the bar before is none to repeat. */
const NO_BAR = 2;

/** One bar to be written; a pickup may be shorter than its meter. */
interface Line {
  readonly bar: TuneBar;
  readonly kind: 'bar' | 'pickup';
  readonly over: readonly string[];
  readonly text: string;
}

export function phraseText(phrase: CutPhrase, name: string, report: Report): string {
  const first = phrase.bars[0]!;
  const { key, part } = first.source;
  const lines = linesOf(phrase, report);
  const rows = [
    `phrase ${quoted(name)}`,
    ...(key === null ? [] : [`  key ${formatKey(key)}`]),
    ...(meterText(first.meter) === DEFAULT_METER ? [] : [`  meter ${meterText(first.meter)}`]),
    ...tempoRow(phrase, report),
    ...(part === null || part === 'concert' ? [] : [`  part ${part}`]),
    ...systemRows(lines, phrase.chords.length > 0),
  ];
  return `${rows.join('\n')}\n`;
}

/** A string of the language. */
export function quoted(text: string): string {
  return `"${text.replace(/\s+/g, ' ').replace(/[\\"“”]/g, (sign) => `\\${sign}`)}"`;
}

// ── Tempo ──────────────────────────────────────────────────────────────────────────────────────────────────────────────────

const SLOWEST = 20;
const FASTEST = 400;

/** Beats as felt, and whether they swing: a score that says nothing of swing has its eighths as they are written. */
function tempoRow({ bars }: CutPhrase, report: Report): string[] {
  const { tempo, feel, meter, source } = bars[0]!;
  const changed = bars.find((bar) => bar.tempo?.quarters !== tempo?.quarters);
  if (changed !== undefined) report.leftOut('a change of tempo inside a phrase', changed.source.number);
  const swung = bars.find((bar) => bar.feel !== feel && bar.feel !== null);
  if (swung !== undefined) report.leftOut('a change of feel inside a phrase', swung.source.number);
  if (tempo === null && feel === null) return [];
  const exact = tempo === null ? 120 : tempo.quarters / Number(meter.beat.valueOf());
  const bpm = Math.round(Math.min(FASTEST, Math.max(SLOWEST, exact)));
  if (Math.abs(bpm - exact) > 0.01)
    report.decided(`a tempo of ${Number(exact.toFixed(2))} beats a minute is written ${bpm}`, source.number);
  const manner = feel?.kind === 'swing' ? `swing${feel.ratio === null ? '' : ` ${feel.ratio}`}` : 'straight';
  // Dotted beats have no eighths to swing.
  return [`  tempo ${bpm}${feel === null && meter.compound ? '' : ` ${manner}`}`];
}

// ── Bars ───────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function linesOf(phrase: CutPhrase, report: Report): Line[] {
  const texts = noteTexts(phrase.notes);
  let shares = 0;
  let meter = '';
  const firstBar = phrase.bars.find(({ isPickup }) => !isPickup);
  return phrase.bars.map((bar): Line => {
    const chords = chordsIn(phrase, bar);
    const whole = bar.meter.beatCount;
    const beats = bar.isPickup ? Number(bar.length.div(bar.meter.beat).ceil().valueOf()) : whole;
    // A pickup has no chords of its own, is shorter than a bar, and in the meter of the bar that it leads into: else it is written as a bar, with rests before it.
    const isLeadingIn = firstBar !== undefined && meterText(firstBar.meter) === meterText(bar.meter);
    const kind = isLeadingIn && bar.isPickup && chords.length === 0 && beats < whole ? 'pickup' : 'bar';
    const size = kind === 'bar' ? whole : beats;
    const start = bar.onset.add(bar.length).sub(bar.meter.beat.mul(size));
    const text = barText({ beats: size, beat: bar.meter.beat }, rhythmOf(phrase, bar, { start, beats: size, texts }, report), kind);
    if (kind === 'pickup') return { bar, kind, over: [], text };
    // A bar of another meter has other shares: it cannot be repeated as a whole.
    if (shares > 0 && meterText(bar.meter) !== meter) shares = NO_BAR;
    meter = meterText(bar.meter);
    const over = overWords(chords, bar, start, shares, report);
    shares = over.length === 1 && over[0] === '/' ? shares : over.length;
    return { bar, kind, over, text };
  });
}

function chordsIn({ chords }: CutPhrase, { onset, length }: TuneBar): CutPhrase['chords'] {
  const end = onset.add(length);
  return chords.filter((chord) => chord.onset.compare(onset) >= 0 && chord.onset.compare(end) < 0);
}

function overWords(chords: CutPhrase['chords'], { meter, source }: TuneBar, start: Fraction, before: number, report: Report): string[] {
  const { placed, moved, lost } = placedChords(
    chords.map(({ onset, symbol }): BarChord => ({ at: onset.sub(start).div(meter.length), symbol })),
    meter,
  );
  for (const { symbol } of moved) report.leftOut(`the exact place of ${symbol}: it is set to the nearest half beat`, source.number);
  for (const { symbol } of lost) report.leftOut(`the chord ${symbol}, in whose place another stands`, source.number);
  return overBar(placed, meter, before);
}

/** The notes of a bar in its beats; a rhythm that no one would read is set to the nearest grid. */
function rhythmOf(
  { notes }: CutPhrase,
  { onset, length, meter, source }: TuneBar,
  { start, beats, texts }: { readonly start: Fraction; readonly beats: number; readonly texts: ReadonlyMap<TuneNote, string> },
  report: Report,
): BeatNote[] {
  const end = onset.add(length);
  const inBeats = (time: Fraction): Fraction => time.sub(start).div(meter.beat);
  const here = notes
    .filter((note) => note.onset.compare(end) < 0 && note.onset.add(note.length).compare(onset) > 0)
    .map((note): BeatNote => {
      const stop = note.onset.add(note.length);
      return {
        from: inBeats(later(note.onset, onset)),
        to: inBeats(stop.compare(end) < 0 ? stop : end),
        text: note.onset.compare(onset) >= 0 ? texts.get(note)! : null,
      };
    });
  if (isWritable({ beats, beat: meter.beat }, here)) return here;
  report.leftOut(`a rhythm that takes more than ${MOST_SLOTS} parts of a beat: it is set to the nearest twenty-fourth`, source.number);
  return onGrid(here);
}

/** Each note as it is written after the one before: an octave only where it is needed. */
function noteTexts(notes: readonly TuneNote[]): Map<TuneNote, string> {
  const texts = new Map<TuneNote, string>();
  let previous: Pitch | null = null;
  for (const note of notes) {
    texts.set(note, noteText(note, previous));
    previous = note.pitch;
  }
  return texts;
}

function noteText({ pitch, marks }: TuneNote, previous: Pitch | null): string {
  const name = nameOf(pitch);
  const plain = formatNoteName(name);
  const from = previous === null ? null : midi(previous);
  const is = (other: Pitch): boolean => midi(other) === midi(pitch);
  const [sign, head] =
    from === null
      ? ['', formatPitch(pitch)]
      : is(nearestOctave(name, from))
        ? ['', plain]
        : is(nextAbove(name, from))
          ? ['/', plain]
          : is(nextBelow(name, from))
            ? ['\\', plain]
            : ['', formatPitch(pitch)];
  const body = marks.includes('ghost') ? `(${head})` : head;
  return `${sign}${body}${marks.includes('accent') ? '>' : ''}${marks.includes('short-accent') ? '^' : ''}`;
}

// ── Systems ────────────────────────────────────────────────────────────────────────────────────────────────────────────────

function systemRows(lines: readonly Line[], hasChords: boolean): string[] {
  const systems: Line[][] = [];
  let count = 0;
  for (const line of lines) {
    const current = systems[systems.length - 1];
    const before = current?.[current.length - 1];
    const isNewMeter = before !== undefined && meterText(before.bar.meter) !== meterText(line.bar.meter);
    if (current === undefined || isNewMeter || count >= BARS_A_SYSTEM) {
      systems.push([line]);
      count = 0;
    } else current.push(line);
    if (line.kind === 'bar') count += 1;
  }
  return systems.flatMap((system, i) => {
    const meter = meterText(system[0]!.bar.meter);
    const last = systems[i - 1]?.at(-1);
    const bars = system.filter(({ kind }) => kind === 'bar');
    const pickup = system.find(({ kind }) => kind === 'pickup');
    return [
      ...(last !== undefined && meterText(last.bar.meter) !== meter ? [`  meter ${meter}`] : []),
      ...(hasChords && bars.length > 0 ? [`  over | ${bars.map(({ over }) => over.join(' ')).join(' | ')} |`] : []),
      `  line ${pickup === undefined ? '' : `${pickup.text} `}| ${bars.map(({ text }) => text).join(' | ')} |`,
    ];
  });
}
