/** The words of a `tempo` row, and what is meant by others. */
import { distance } from 'fastest-levenshtein';
import { writing, type Problems } from './problems';
import type { Range, TempoRow, Word } from './tree';
import { joined, textOf } from './words';

/** Reads them; what is no tempo is reported with the one that may be meant. */
export function readTempo(words: readonly Word[], range: Range, problems: Problems): Pick<TempoRow, 'bpm' | 'feel' | 'ratio'> {
  const [bpmWord, feelWord, ratioWord] = words;
  const bpm = /^\d{2,3}$/.test(bpmWord?.text ?? '') ? Number(bpmWord!.text) : null;
  const feel = feelWord?.text === 'swing' || feelWord?.text === 'straight' ? feelWord.text : null;
  const ratioMatch = /^([1-9]\d?):([1-9]\d?)$/.exec(ratioWord?.text ?? '');
  const ratio = feel === 'swing' && ratioMatch !== null ? ([Number(ratioMatch[1]), Number(ratioMatch[2])] as const) : null;
  const inRange = bpm !== null && isTempo(bpm);
  const wellFormed =
    inRange && (feelWord === undefined || feel !== null) && (ratioWord === undefined || ratio !== null) && words.length <= 3;
  if (!wellFormed) {
    const offered = tempoMeant(words.map(({ text }) => text));
    const place = joined(words)?.range ?? range;
    problems.report('bad-tempo', place, {
      facts: { found: textOf(words), offered },
      fixes: offered === '' ? [] : [writing(place, offered)],
    });
  }
  return { bpm: inRange ? bpm : null, feel, ratio };
}

function isTempo(bpm: number): boolean {
  return bpm >= 20 && bpm <= 400;
}

/** The words after a number that say nothing more. */
const TEMPO_NOISE = /^(?:bpm|feel|eighths?|8ths?|notes?|=|q)$/;
const FEELS: Readonly<Record<string, 'swing' | 'straight'>> = { swung: 'swing', shuffle: 'swing', even: 'straight' };

/** `120 Swing`, `swing 120`, `120 swng 2/1`, `120bpm`, `q=120`; empty where there is no telling. */
function tempoMeant(words: readonly string[]): string {
  let bpm = '';
  let feel = '';
  let ratio = '';
  for (const word of words.slice(0, 6).map((one) => one.slice(0, 20).toLowerCase())) {
    const number = /^(?:q|♩)?=?(\d{2,3})(?:bpm)?$/.exec(word)?.[1];
    const parts = /^([1-9]\d?)[:/-]([1-9]\d?)$/.exec(word);
    const named = feelMeant(word);
    if (number !== undefined && bpm === '') bpm = number;
    else if (parts !== null && ratio === '') ratio = `${parts[1]}:${parts[2]}`;
    else if (named !== null && feel === '') feel = named;
    else if (!TEMPO_NOISE.test(word)) return '';
  }
  if (ratio !== '') feel = feel === '' ? 'swing' : feel;
  const isWhole = bpm !== '' && isTempo(Number(bpm)) && words.length <= 6 && !(ratio !== '' && feel === 'straight');
  return isWhole ? [bpm, feel, ratio].filter((one) => one !== '').join(' ') : '';
}

function feelMeant(word: string): 'swing' | 'straight' | null {
  if (Object.hasOwn(FEELS, word)) return FEELS[word]!;
  return (['swing', 'straight'] as const).find((one) => distance(word, one) <= 2) ?? null;
}
