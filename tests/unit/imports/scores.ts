/** Scores made by hand for the tests of imports: measures as MusicXML, set part by part or measure by measure. Tunes of our own. */
import { importMusicXml, type Imported, type ImportOptions } from '../../../server/src/imports/import';

export interface NoteOptions {
  readonly type?: string;
  readonly dots?: number;
  readonly voice?: number;
  readonly tie?: 'start' | 'stop' | 'both';
  /** Several in the time of others: `3:2`. */
  readonly tuplet?: string;
  readonly notations?: string;
  /** Elements before the pitch: `<chord/>`, `<grace/>`. */
  readonly before?: string;
  readonly after?: string;
}

/** A note such as `Bb4`, or a rest `r`, of so many divisions. */
export function note(
  pitch: string,
  duration: number | null,
  { type, dots = 0, voice = 1, tie, tuplet, notations = '', before = '', after = '' }: NoteOptions = {},
): string {
  const [, letter, sign, octave] = /^([A-Gr])(b*|#*)(-?\d*)$/.exec(pitch)!;
  const alter = sign!.startsWith('b') ? -sign!.length : sign!.length;
  const sound =
    letter === 'r'
      ? '<rest/>'
      : `<pitch><step>${letter}</step>${alter === 0 ? '' : `<alter>${alter}</alter>`}<octave>${octave}</octave></pitch>`;
  const ties = [...(tie === 'stop' || tie === 'both' ? ['stop'] : []), ...(tie === 'start' || tie === 'both' ? ['start'] : [])];
  const [actual, normal] = tuplet?.split(':') ?? [];
  return `<note>${before}${sound}${duration === null ? '' : `<duration>${duration}</duration>`}${ties.map((one) => `<tie type="${one}"/>`).join('')}<voice>${voice}</voice>${type === undefined ? '' : `<type>${type}</type>`}${'<dot/>'.repeat(dots)}${
    actual === undefined
      ? ''
      : `<time-modification><actual-notes>${actual}</actual-notes><normal-notes>${normal}</normal-notes></time-modification>`
  }${notations === '' ? '' : `<notations>${notations}</notations>`}${after}</note>`;
}

/** Notes of one division each, one after another: `C4 D4 r E4:2` (two divisions). */
export function line(text: string): string {
  return text
    .split(' ')
    .map((word) => {
      const [pitch, duration] = word.split(':');
      return note(pitch!, Number(duration ?? 1));
    })
    .join('');
}

export function chord(
  root: string,
  kind: string,
  {
    text,
    degrees = '',
    bass,
    offset,
  }: { readonly text?: string; readonly degrees?: string; readonly bass?: string; readonly offset?: number } = {},
): string {
  const name = (role: 'root' | 'bass', value: string): string =>
    `<${role}><${role}-step>${value[0]}</${role}-step>${value.length > 1 ? `<${role}-alter>${value[1] === 'b' ? -1 : 1}</${role}-alter>` : ''}</${role}>`;
  return `<harmony>${name('root', root)}<kind${text === undefined ? '' : ` text="${text}"`}>${kind}</kind>${bass === undefined ? '' : name('bass', bass)}${degrees}${offset === undefined ? '' : `<offset>${offset}</offset>`}</harmony>`;
}

export function degree(value: number, alter: number, type: 'add' | 'alter' | 'subtract'): string {
  return `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`;
}

export function attributes({
  divisions = 1,
  key = '<key><fifths>0</fifths><mode>major</mode></key>',
  time = '4/4',
  more = '',
}: {
  readonly divisions?: number;
  readonly key?: string;
  readonly time?: string;
  readonly more?: string;
} = {}): string {
  const [beats, unit] = time.split('/');
  return `<attributes><divisions>${divisions}</divisions>${key}<time><beats>${beats}</beats><beat-type>${unit}</beat-type></time>${more}</attributes>`;
}

export function words(text: string, attributes = ''): string {
  return `<direction><direction-type><words${attributes}>${text}</words></direction-type></direction>`;
}

export function sign(name: string): string {
  return `<direction><direction-type><${name}/></direction-type></direction>`;
}

export function repeat(direction: 'forward' | 'backward', more = '', ending = ''): string {
  return `<barline location="${direction === 'forward' ? 'left' : 'right'}"><bar-style>${direction === 'forward' ? 'heavy-light' : 'light-heavy'}</bar-style>${ending}<repeat direction="${direction}"${more}/></barline>`;
}

export const DOUBLE = '<barline location="right"><bar-style>light-light</bar-style></barline>';

export interface Measure {
  readonly content: string;
  readonly number?: string;
  readonly implicit?: boolean;
}

export interface ScoreText {
  readonly title?: string;
  readonly head?: string;
  readonly name?: string;
  readonly doctype?: string;
  /** The measures of each part. */
  readonly parts: readonly (readonly (Measure | string)[])[];
}

/** One score in both orders of MusicXML. */
export function bothWays(score: ScoreText): { readonly partwise: string; readonly timewise: string } {
  const { title = 'Low water', head = '', name = 'Melody', doctype = '', parts } = score;
  const start = `<?xml version="1.0" encoding="UTF-8"?>\n${doctype}`;
  const list = `<part-list>${parts.map((_, i) => `<score-part id="P${i + 1}"><part-name>${i === 0 ? name : `Part ${i + 1}`}</part-name></score-part>`).join('')}</part-list>`;
  const top = `<work><work-title>${title}</work-title></work>${head}${list}`;
  const measures = parts.map((part) => part.map((one): Measure => (typeof one === 'string' ? { content: one } : one)));
  const from = measures[0]![0]!.number === '0' ? 0 : 1;
  const open = ({ number, implicit }: Measure, i: number): string =>
    `<measure number="${number ?? i + from}"${implicit === true ? ' implicit="yes"' : ''}>`;
  return {
    partwise: `${start}<score-partwise version="4.0">${top}${measures.map((part, p) => `<part id="P${p + 1}">${part.map((one, i) => `${open(one, i)}${one.content}</measure>`).join('')}</part>`).join('')}</score-partwise>`,
    timewise: `${start}<score-timewise version="4.0">${top}${measures[0]!.map((one, i) => `${open(one, i)}${measures.map((part, p) => `<part id="P${p + 1}">${part[i]!.content}</part>`).join('')}</measure>`).join('')}</score-timewise>`,
  };
}

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** A score brought in; both orders must read the same. */
export function brought(score: ScoreText, options: ImportOptions = {}): Imported {
  const { partwise, timewise } = bothWays(score);
  const [one, other] = [partwise, timewise].map((text) => importMusicXml(utf8(text), 'file', options));
  if (JSON.stringify(one) !== JSON.stringify(other))
    throw new Error(`part-wise and time-wise read differently:\n${one!.text}\n${other!.text}`);
  return one!;
}

/** The rows of a text that begin with a word, without it, spaces joined. */
export function rows(text: string, word: string): string[] {
  return text
    .split('\n')
    .map((row) => row.trim())
    .filter((row) => row.startsWith(`${word} `))
    .map((row) => row.slice(word.length).replace(/\s+/g, ' ').trim());
}
