/** A phrase that throws while it is read, written or told costs an export only itself: the others are as they were, and the fault is told once. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { exportMusic, type MusicRequest } from '../../server/src/export-service';
import { importMusicXml } from '../../server/src/imports/import';
import { notesIn, readSmf } from '../outside/smf';
import { musicOf } from '../property/music-of';

/** The function that throws where it is asked about a phrase of these names, or one in 5/4 (“Weir”), where it knows no name. */
const { broken, breakable } = await vi.hoisted(async () => {
  const { breakable, holds } = await import('./breakable');
  const broken = { name: '', phrases: [] as string[] };
  const isAsked = (value: unknown): boolean => {
    if (value === null || typeof value !== 'object') return false;
    const { name, beats } = value as { name?: unknown; beats?: unknown };
    return (typeof name === 'string' && broken.phrases.includes(name)) || (broken.name === 'beamsOf' && beats === 5);
  };
  const within = ['phrase', 'reading', 'placed'];
  return { broken, breakable: breakable((name, args) => broken.name === name && args.some((one) => holds(one, within, isAsked))) };
});
vi.mock('../../server/src/analysis/read', breakable);
vi.mock('../../server/src/exports/beams', breakable);
vi.mock('../../server/src/handout/remarks', breakable);
vi.mock('../../server/src/performance/take', breakable);

afterEach(() => {
  broken.name = '';
  broken.phrases = [];
});

const row = (name: string, meter: string, line: string): string =>
  `phrase "${name}"\n  key C major\n  meter ${meter}\n  over | Dm7 | Cmaj7 |\n  line | ${line} |\n\n`;
const SLIPWAY = row('Slipway', '4/4', 'D4-F A-C5 B4-A G-F | E ~ . .');
const WEIR = row('Weir', '5/4', 'A4-G F-E D-F G-B A | C5 ~ . . .');
const LOCK = row('Lock', '4/4', 'F4-E D-F A-G F-D | E4 ~ . .');
const request = (to: MusicRequest['to'], text = `lesson "By the water"\n\n${SLIPWAY}${WEIR}${LOCK}`): MusicRequest => ({
  lesson: { name: 'water', text },
  to,
  theory: DEFAULT_THEORY,
  options: {
    musicXml: { pitch: 'written', degrees: false, remarks: ['devices', 'findings'] },
    midi: { eighths: 'as-played', keys: 'written' },
  },
});
const broke = (name: string, ...phrases: string[]): void => {
  broken.name = name;
  broken.phrases = phrases;
};
const FAULT = 'A fault of Phrasewright: ';
/** Whoever looks for its findings reads it, too, and knows no name. */
const NAMELESS = `${FAULT}the reading of a phrase broke off: readPhrase is broken. Everything else goes on.`;
const named = (notices: readonly string[]): string[] => notices.filter((notice) => notice !== NAMELESS);
const made = async (to: MusicRequest['to'], text?: string) => (await exportMusic(request(to, text)))!;

describe.each(['musicxml', 'mxl'] as const)('%s', (to) => {
  test.each([
    ['readPhrase', 'the reading of “Weir” broke off: readPhrase is broken. Everything else goes on.'],
    ['beamsOf', 'the notation of “Weir” broke off: beamsOf is broken. Everything else goes on.'],
  ])('is made without a phrase that throws in %s, which is named', async (name, words) => {
    broke(name, 'Weir');
    const { bytes, notices } = await made(to);
    broke('');
    expect(named(notices)).toEqual([FAULT + words]);
    expect(musicOf(importMusicXml(bytes, 'back').text)).toEqual(musicOf(SLIPWAY + LOCK));
  });

  test('is made whole without what cannot be said of a phrase', async () => {
    broke('remarksOf', 'Weir');
    const { bytes, notices } = await made(to);
    broke('');
    expect(notices).toEqual([`${FAULT}what is said of “Weir” broke off: remarksOf is broken. Everything else goes on.`]);
    expect(musicOf(importMusicXml(bytes, 'back').text)).toEqual(musicOf(SLIPWAY + WEIR + LOCK));
  });
});

describe('MIDI', () => {
  test.each([
    ['readPhrase', 'the reading'],
    ['takeOf', 'the sound'],
  ])('is made without a phrase that throws in %s: that of the others alone', async (name, what) => {
    broke(name, 'Weir');
    const { bytes, notices } = await made('midi');
    broke('');
    expect(named(notices)).toEqual([`${FAULT}${what} of “Weir” broke off: ${name} is broken. Everything else goes on.`]);
    expect(readSmf(bytes)).toEqual(readSmf((await made('midi', `lesson "By the water"\n\n${SLIPWAY}${LOCK}`)).bytes));
  });

  test('is made without a phrase that it has no numbers for', async () => {
    const high = WEIR.replace('A4-G', 'A9-B9');
    const { bytes, notices } = await made('midi', `lesson "By the water"\n\n${SLIPWAY}${high}${LOCK}`);
    expect(notices).toEqual(['“Weir” holds a note that MIDI has no number for. Move the phrase by octaves. It is left out.']);
    expect(notesIn(readSmf(bytes)[1]!)).toHaveLength(18);
  });
});

test.each(['musicxml', 'midi'] as const)('%s: none is made where no phrase could be written, and why is said', async (to) => {
  broke('readPhrase', 'Slipway', 'Weir', 'Lock');
  await expect(made(to)).rejects.toThrow(`No phrase could be written. ${FAULT}the reading of “Slipway” broke off: readPhrase is broken.`);
});
