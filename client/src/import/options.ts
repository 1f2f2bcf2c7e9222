/** What may be asked for before scores are brought in: bars a phrase, and chords in place of those of the score. */
import * as vscode from 'vscode';
import type * as Service from '../../../server/src/import-service';
import { pickOne, type Item } from '../pick';

/** What every score of one call is brought in with; the part is asked for score by score. */
export type Wishes = Pick<Service.ImportOptions, 'bars' | 'chords'>;

/** One list, a row of it for each wish; undefined where it is left. */
export async function askWishes(what: string, service: typeof Service): Promise<Wishes | undefined> {
  let wishes: Wishes = {};
  let last: 'bring' | keyof Wishes = 'bars';
  for (;;) {
    const picked = await pickOne(`Bring In ${what} with`, rowsOf(wishes), last);
    if (picked === undefined) return undefined;
    if (picked === 'bring') return wishes;
    wishes = picked === 'bars' ? await askBars(wishes, service) : await askChords(wishes, service);
    last = 'bring';
  }
}

function rowsOf({ bars, chords }: Wishes): Item<'bring' | keyof Wishes>[] {
  return [
    { value: 'bring', label: '$(arrow-right) Bring In', description: 'writes a lesson beside each score' },
    { value: null, label: '', kind: vscode.QuickPickItemKind.Separator },
    { value: 'bars', label: 'Bars a phrase', description: bars === undefined ? 'eight; what has up to twelve stays whole' : String(bars) },
    { value: 'chords', label: 'Chords', description: chords ?? 'those of the score' },
  ];
}

async function askBars({ bars, ...others }: Wishes, { MOST_BARS }: typeof Service): Promise<Wishes> {
  const isNumber = (text: string): boolean => /^[1-9]\d?$/.test(text) && Number(text) <= MOST_BARS;
  const text = await vscode.window.showInputBox({
    title: 'Bars a Phrase',
    value: bars === undefined ? '' : String(bars),
    ignoreFocusOut: true,
    prompt: `1 to ${MOST_BARS}; nothing for eight, where what has up to twelve stays whole.`,
    validateInput: (value) => (value.trim() === '' || isNumber(value.trim()) ? null : `A phrase has 1 to ${MOST_BARS} bars.`),
  });
  if (text === undefined) return { ...others, ...(bars === undefined ? {} : { bars }) };
  return { ...others, ...(text.trim() === '' ? {} : { bars: Number(text) }) };
}

async function askChords({ chords, ...others }: Wishes, { problemOfChords }: typeof Service): Promise<Wishes> {
  const text = await vscode.window.showInputBox({
    title: 'Chords in Place of Those of the Score',
    value: chords ?? '',
    ignoreFocusOut: true,
    placeHolder: '| Dm7 G7 | Cmaj7 |',
    prompt: 'Bar by bar; from the start again where they end. Nothing for the chords of the score.',
    validateInput: (value) => (value.trim() === '' ? null : problemOfChords(value)),
  });
  if (text === undefined) return { ...others, ...(chords === undefined ? {} : { chords }) };
  return { ...others, ...(text.trim() === '' ? {} : { chords: text.trim() }) };
}
