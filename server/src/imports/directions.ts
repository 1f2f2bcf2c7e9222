/** Directions, sounds and bar lines of a measure: signs that send one elsewhere, names, tempo and feel. */
import { Fraction } from '../model/fraction';
import { valueOf } from './durations';
import type { Report } from './report';
import type { Feel, InnerRepeat, Signs, Tempo } from './types';
import { childOf, childrenOf, nodeAt, numberAt, textAt, type XmlNode } from './xml';
import { feelIn, isStyle, senseOf } from './words';

/** What directions say of a measure, as it grows. */
export interface Told {
  readonly signs: Signs;
  readonly inside: InnerRepeat[];
  rehearsal: string | null;
  /** Bold words at the start, which name a phrase. */
  title: string | null;
  tempo: Tempo | null;
  feel: Feel | null;
  /** A double bar line or a repeat stands at its start, or at its end. */
  opensHere: boolean;
  opensNext: boolean;
}

/** How the words of a score are taken. */
export interface WordReading {
  readonly report: Report;
  readonly measure: string;
}

export function nothingTold(): Told {
  return {
    signs: {
      forward: false,
      backward: null,
      endingStart: null,
      endingStop: false,
      segno: false,
      coda: false,
      jump: null,
      toCoda: false,
      fine: false,
    },
    inside: [],
    rehearsal: null,
    title: null,
    tempo: null,
    feel: null,
    opensHere: false,
    opensNext: false,
  };
}

/** Before the number of a phrase, the id of a direction that is its name in scores that we write ourselves: whatever its words are, they send nobody anywhere. */
const NAME_ID = 'phrase-name-';

/** `isAtStart`: nothing of the measure stands before it. */
export function readDirection(direction: XmlNode, told: Told, isAtStart: boolean, reading: WordReading): void {
  if (isAtStart && direction.attributes['id']?.startsWith(NAME_ID) === true) {
    told.title ??= textAt(direction, 'direction-type', 'words');
    return;
  }
  const metronomes: XmlNode[] = [];
  for (const type of childrenOf(direction, 'direction-type')) {
    for (const node of type.children) {
      if (node.name === 'metronome') metronomes.push(node);
      else readType(node, told, isAtStart, reading);
    }
  }
  const sound = childOf(direction, 'sound');
  if (sound !== undefined) readSound(sound, told, reading);
  // What is printed says the beat that is counted.
  for (const node of metronomes) setTempo(told, tempoIn(node), reading);
}

function readType(node: XmlNode, told: Told, isAtStart: boolean, reading: WordReading): void {
  const { report, measure } = reading;
  switch (node.name) {
    case 'rehearsal':
      if (isAtStart) told.rehearsal ??= node.text || null;
      else report.leftOut(`the rehearsal mark “${node.text}” inside a bar`, measure);
      return;
    case 'segno':
      told.signs.segno = true;
      return;
    case 'coda':
      told.signs.coda = true;
      return;
    case 'words':
      readWords(node, told, isAtStart, reading);
      return;
    case 'octave-shift':
      // Pitches are those that sound already.
      return;
    default:
      report.leftOut(NAMES[node.name] ?? node.name, measure);
  }
}

const NAMES: Readonly<Record<string, string>> = {
  dynamics: 'dynamics',
  wedge: 'crescendos and diminuendos',
  dashes: 'dashes',
  bracket: 'brackets',
  pedal: 'pedal marks',
};

function readWords(node: XmlNode, told: Told, isAtStart: boolean, { report, measure }: WordReading): void {
  const words = node.text.replace(/\s+/g, ' ').trim();
  if (words === '') return;
  const sense = senseOf(words);
  if (sense !== 'other') {
    // Most files say it by a sound too: it is the same sign.
    if (sense === 'coda') told.signs.coda = true;
    else setJump(told.signs, sense);
    return;
  }
  const feel = feelIn(words);
  if (feel !== null && (isAtStart || told.feel === null)) told.feel ??= feel;
  if (isAtStart && node.attributes['font-weight'] === 'bold' && !isStyle(words)) told.title ??= words;
  else if (!/^(?:swing|straight)$/i.test(words)) report.leftOut(`the words “${words.slice(0, 60)}”`, measure);
}

function setJump(signs: Signs, sense: 'da-capo' | 'dal-segno' | 'to-coda' | 'fine'): void {
  if (sense === 'da-capo' || sense === 'dal-segno') signs.jump = sense;
  else if (sense === 'to-coda') signs.toCoda = true;
  else signs.fine = true;
}

export function readSound(sound: XmlNode, told: Told, reading: WordReading): void {
  const { attributes } = sound;
  const { signs } = told;
  if (attributes['segno'] !== undefined) signs.segno = true;
  if (attributes['coda'] !== undefined) signs.coda = true;
  if (attributes['dacapo'] === 'yes') signs.jump = 'da-capo';
  if (attributes['dalsegno'] !== undefined) signs.jump = 'dal-segno';
  if (attributes['tocoda'] !== undefined) signs.toCoda = true;
  if (attributes['fine'] !== undefined) signs.fine = true;
  if (attributes['forward-repeat'] === 'yes') signs.forward = true;
  const quarters = Number(attributes['tempo']);
  if (quarters > 0) setTempo(told, { quarters }, reading);
  const swing = childOf(sound, 'swing');
  if (swing !== undefined)
    told.feel = childOf(swing, 'straight') !== undefined ? { kind: 'straight' } : { kind: 'swing', ratio: ratioOf(swing) };
}

function ratioOf(swing: XmlNode): string | null {
  const [first, second] = [numberAt(swing, 'first'), numberAt(swing, 'second')];
  const isRatio = [first, second].every((one) => one !== null && Number.isInteger(one) && one >= 1 && one <= 99);
  return isRatio ? `${first}:${second}` : null;
}

/** The first tempo of a measure counts; one that says the same again is nothing new. */
function setTempo(told: Told, tempo: Tempo | null, { report, measure }: WordReading): void {
  if (tempo === null) report.leftOut('a tempo that is no number of beats', measure);
  else if (told.tempo !== null && Math.abs(told.tempo.quarters - tempo.quarters) > 1)
    report.leftOut('a second tempo in one measure', measure);
  else told.tempo = tempo;
}

function tempoIn(metronome: XmlNode): Tempo | null {
  const beat = valueOf(textAt(metronome, 'beat-unit'), childrenOf(metronome, 'beat-unit-dot').length);
  const perMinute = /\d+(?:\.\d+)?/.exec(textAt(metronome, 'per-minute') ?? '')?.[0];
  if (beat === null || perMinute === undefined) return null;
  return { quarters: Number(new Fraction(perMinute).mul(beat).valueOf()) };
}

const DOUBLE = new Set(['light-light', 'light-heavy', 'heavy-light', 'heavy-heavy', 'heavy']);

/** `at`: where in its measure it stands. */
export function readBarline(barline: XmlNode, told: Told, at: Fraction): void {
  const { signs } = told;
  const isLeft = barline.attributes['location'] === 'left';
  const repeat = childOf(barline, 'repeat');
  const ending = childOf(barline, 'ending');
  const forward = repeat?.attributes['direction'] === 'forward';
  const backward = repeat?.attributes['direction'] === 'backward' ? backwardOf(repeat) : null;
  if (barline.attributes['location'] === 'middle' && repeat !== undefined) told.inside.push({ at, forward, backward });
  else {
    signs.forward ||= forward;
    signs.backward = backward ?? signs.backward;
  }
  if (ending !== undefined) {
    if (ending.attributes['type'] === 'start')
      signs.endingStart = {
        numbers: (ending.attributes['number'] ?? '')
          .split(/[\s,]+/)
          .map(Number)
          .filter((one) => Number.isInteger(one) && one > 0),
      };
    else signs.endingStop = true;
  }
  if (childOf(barline, 'segno') !== undefined) signs.segno = true;
  if (childOf(barline, 'coda') !== undefined) signs.coda = true;
  const isDouble = DOUBLE.has(nodeAt(barline, 'bar-style')?.text ?? '') || repeat !== undefined;
  if (!isDouble) return;
  if (isLeft) told.opensHere = true;
  else if (barline.attributes['location'] !== 'middle') told.opensNext = true;
}

function backwardOf(repeat: XmlNode): NonNullable<Signs['backward']> {
  const times = Number(repeat.attributes['times']);
  return { times: Number.isInteger(times) && times >= 1 ? times : null, afterJump: repeat.attributes['after-jump'] === 'yes' };
}
