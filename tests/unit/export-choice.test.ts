/** What is chosen of an export in the editor, and what the server's side makes of it: the same file as the command line's, in pieces. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  BESIDE_WORDS,
  besideOf,
  besideWords,
  endingOf,
  FORMAT_WORDS,
  readChoice,
  withBeside,
  type Beside,
  type Choice,
} from '../../client/src/export/choice';
import { DEFAULT_THEORY } from '../../server/src/analysis/read';
import { CHOICES, exportMusic } from '../../server/src/export-service';
import { importMusicXml } from '../../server/src/imports/import';
import { MUSIC_ENDINGS } from '../../server/src/music-formats';
import { musicFile, type MusicRequest } from '../../server/src/music-file';
import { readSmf } from '../outside/smf';
import { always, RUN } from '../property/arbitrary';
import { musicOf } from '../property/music-of';

const AT_FIRST: Choice = {
  what: 'lesson',
  format: 'musicxml',
  options: { musicXml: { pitch: 'written', degrees: false, remarks: [] }, midi: { eighths: 'as-played', keys: 'written' } },
};

describe('a kept choice', () => {
  test('is read as it was kept', () => {
    const chosen: Choice = {
      what: 'phrase',
      format: 'midi',
      options: { musicXml: { pitch: 'concert', degrees: true, remarks: ['findings'] }, midi: { eighths: 'as-written', keys: 'all' } },
    };
    expect(readChoice(JSON.parse(JSON.stringify(chosen)), CHOICES)).toEqual(chosen);
  });

  test.each([
    undefined,
    null,
    'midi',
    7,
    [],
    { format: 'doc', what: 'file', options: { musicXml: { pitch: 'high', degrees: 'yes', remarks: 'devices' }, midi: null } },
  ])('of another shape is that of the start: %j', (kept) => {
    expect(readChoice(kept, CHOICES)).toEqual(AT_FIRST);
  });

  test('has only what there is to choose, whatever is kept', () => {
    always(
      fc.property(fc.anything(), fc.anything(), (some, other) => {
        const { format, options } = readChoice(
          {
            what: some,
            format: other,
            options: { musicXml: { pitch: some, degrees: other, remarks: [some, 'devices', other] }, midi: some },
          },
          CHOICES,
        );
        expect(CHOICES.formats).toContain(format);
        expect(options.musicXml.remarks).toEqual(['devices']);
      }),
      RUN,
    );
  });

  test('what stands beside the notes is told in words, and taken as it was picked', () => {
    always(
      fc.property(fc.subarray(['degrees', ...CHOICES.remarks] as Beside[]), (beside) => {
        const options = withBeside(AT_FIRST.options, beside, CHOICES);
        expect(besideOf(options)).toEqual(beside);
        expect(besideWords(options)).toBe(beside.length === 0 ? 'nothing' : beside.join(', '));
      }),
      RUN,
    );
    expect(Object.keys(BESIDE_WORDS)).toEqual(['degrees', ...CHOICES.remarks]);
  });

  test('each format has words and an ending; files of one lesson that differ have different names', () => {
    expect([Object.keys(FORMAT_WORDS), Object.keys(MUSIC_ENDINGS)]).toEqual([[...CHOICES.formats], [...CHOICES.formats]]);
    const choices = CHOICES.formats.flatMap((format) =>
      (['written', 'concert'] as const).flatMap((pitch) =>
        (['as-played', 'as-written'] as const).flatMap((eighths) =>
          (['written', 'all'] as const).map(
            (keys): Choice => ({
              ...AT_FIRST,
              format,
              options: { musicXml: { ...AT_FIRST.options.musicXml, pitch }, midi: { eighths, keys } },
            }),
          ),
        ),
      ),
    );
    expect(new Set(choices.map(endingOf))).toEqual(
      new Set([
        '.musicxml',
        '-concert.musicxml',
        '.mxl',
        '-concert.mxl',
        '.mid',
        '-straight.mid',
        '-twelve-keys.mid',
        '-twelve-keys-straight.mid',
      ]),
    );
  });
});

const LESSON = `lesson "Millpond"

phrase "Sluice"
  key     Bb major
  part    tenor-sax
  over    | Cm7 F7 | Bbmaj7 |
  line    | C4-Eb G-Bb A-F D-C | D ~ ~ . |

phrase "Reeds"
  key     F major
  over    | Gm7 C7 | Fmaj7 |
  line    | G4-Bb D5-F E-C Bb-G | A ~ . . |
`;

const request = (change: Partial<MusicRequest> = {}): MusicRequest => ({
  lesson: { name: 'millpond', text: LESSON },
  to: 'musicxml',
  options: AT_FIRST.options,
  theory: DEFAULT_THEORY,
  ...change,
});

describe('an export', () => {
  test.each(CHOICES.formats)('is byte for byte what the command line writes: %s', async (to) => {
    const { content } = musicFile(request({ to }));
    const { bytes, notices } = (await exportMusic(request({ to })))!;
    expect(Buffer.from(bytes).equals(Buffer.from(typeof content === 'string' ? new TextEncoder().encode(content) : content))).toBe(true);
    expect(notices).toEqual([]);
  });

  test('of one phrase holds that phrase alone, and comes back as the same music', async () => {
    const at = LESSON.indexOf('Reeds');
    const { bytes } = (await exportMusic(request({ lesson: { name: 'millpond', text: LESSON, at } })))!;
    const { text } = importMusicXml(bytes, 'back');
    expect(musicOf(text)).toEqual([musicOf(LESSON)[1]]);
    expect(text).toContain('lesson "Millpond"');
  });

  test('comes back as the same music, compressed and at either pitch', async () => {
    for (const to of ['musicxml', 'mxl'] as const) {
      for (const pitch of ['written', 'concert'] as const) {
        const options = { ...AT_FIRST.options, musicXml: { pitch, degrees: true, remarks: CHOICES.remarks } };
        expect(musicOf(importMusicXml((await exportMusic(request({ to, options })))!.bytes, 'back').text)).toEqual(musicOf(LESSON));
      }
    }
  });

  test('says which phrase has an error in its music, and not of one in its words', async () => {
    const broken = LESSON.replace('C4-Eb G-Bb', 'C4-Eb xx').replace('  line    | G4', '  claim   lands 3 at 9.1\n  line    | G4');
    const { notices } = (await exportMusic(request({ lesson: { name: 'millpond', text: broken } })))!;
    expect(notices).toHaveLength(1);
    expect(notices[0]).toMatch(/^“Sluice” has an error, so its notes may not all be there: /);
  });

  test('is none of a lesson without a phrase; where no phrase is left, a note beyond MIDI is told with its phrase', async () => {
    expect(await exportMusic(request({ lesson: { name: 'a', text: 'lesson "Nothing"\n' } }))).toBeNull();
    const high = LESSON.slice(0, LESSON.indexOf('phrase "Reeds"')).replace('C4-Eb G-Bb', 'C4-Eb G9-Bb9');
    await expect(exportMusic(request({ to: 'midi', lesson: { name: 'a', text: high } }))).rejects.toThrow(
      '“Sluice” holds a note that MIDI has no number for. Move the phrase by octaves.',
    );
  });

  test('is called off between two phrases, and lets others work meanwhile', async () => {
    const lesson = {
      name: 'many',
      text: `${LESSON}\n${LESSON.slice(LESSON.indexOf('phrase')).replace('Sluice', 'Weir').replace('Reeds', 'Eddy')}`,
    };
    const told: string[] = [];
    const stop = new AbortController();
    const made = exportMusic(request({ lesson }), {
      signal: stop.signal,
      turn: 0,
      onProgress(done, total) {
        told.push(`${done} of ${total}`);
        // What waits beside it has its turn before the next phrase.
        if (done === 2) setImmediate(() => stop.abort(new Error('Enough.')));
      },
    });
    await expect(made).rejects.toThrow('Enough.');
    expect(told[1]).toBe('2 of 4');
    expect(told.length).toBeLessThan(4);
  });
});

/** The meta event of SMF 1.0, from memory. */
const MARKER = 6;

test('in twelve keys a phrase is called as it is when it is moved there; one whose letter may be a label keeps its name', async () => {
  const options: MusicRequest['options'] = { ...AT_FIRST.options, midi: { eighths: 'as-played', keys: 'all' } };
  const marks = async (name: string): Promise<(string | undefined)[]> => {
    const { bytes } = (await exportMusic(
      request({ to: 'midi', options, lesson: { name: 'a', text: LESSON.slice(LESSON.indexOf('phrase "Reeds"')).replace('Reeds', name) } }),
    ))!;
    return readSmf(bytes)[0]!.flatMap(({ ff, dd }) => (ff === MARKER ? [dd] : []));
  };
  expect((await marks('Landing on A over Fmaj7')).slice(0, 3)).toEqual([
    'Landing on A over Fmaj7 (F)',
    'Landing on D over Bbmaj7 (Bb)',
    'Landing on G over Ebmaj7 (Eb)',
  ]);
  expect((await marks('Etude B')).slice(0, 2)).toEqual(['Etude B (F)', 'Etude B (Bb)']);
});

test('whoever types what other programs call it finds the command by its title', () => {
  const {
    contributes: { commands },
  } = JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', 'package.json'), 'utf8')) as {
    contributes: { commands: { command: string; title: string }[] };
  };
  const found = (word: string): string[] =>
    commands.filter(({ title }) => title.toLowerCase().includes(word)).map(({ command }) => command.replace('phrasewright.', ''));
  expect(['print', 'pdf', 'html', 'export', 'musicxml', 'midi', 'import'].map((word) => [word, found(word)])).toEqual([
    ['print', ['handOut']],
    ['pdf', ['handOut']],
    ['html', ['handOut']],
    ['export', ['exportMusic']],
    ['musicxml', ['exportMusic', 'bringIn', 'bringInWith']],
    ['midi', ['exportMusic']],
    ['import', ['bringIn', 'bringInWith']],
  ]);
});
