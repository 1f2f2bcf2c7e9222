/** What goes into a sound file, without the editor and without sound. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Sound, Voice } from '../../client/src/score/messages';
import { DEFAULT_CHOICE, endingOf, levelsOf, readChoice, soundsOf, voicesWords, VOICES } from '../../client/src/sound/choice';
import { wavOf } from '../../client/src/sound/wav';
import { readWav } from '../workbench/heard';

test('a file has the samples that were put into it, one stretch after another', () => {
  const stretch = fc.array(fc.integer({ min: -32_768, max: 32_767 }), { maxLength: 40 });
  fc.assert(
    fc.property(fc.array(stretch, { maxLength: 4 }), fc.integer({ min: 8000, max: 96_000 }), (stretches, rate) => {
      const { raw, rate: read } = readWav(
        Buffer.from(
          wavOf(
            stretches.map((one) => Int16Array.from(one)),
            rate,
          ),
        ),
      );
      expect([...raw]).toEqual(stretches.flat());
      expect(read).toBe(rate);
    }),
  );
});

test('what was kept is not taken on trust', () => {
  for (const raw of [
    undefined,
    null,
    7,
    'x',
    {},
    { voices: [] },
    { voices: ['drums', 3] },
    { countIn: -1, tempo: 0, keys: 'some', what: 'page', piano: 'line' },
  ])
    expect(readChoice(raw)).toEqual(DEFAULT_CHOICE);
  expect(
    readChoice({ what: 'lesson', voices: ['bass', 'chords', 'bass'], countIn: 2, tempo: 0.8, keys: 'all', piano: ['line', 'bass'] }),
  ).toEqual({ what: 'lesson', voices: ['chords', 'bass'], countIn: 2, tempo: 0.8, keys: 'all', piano: ['line'] });
  expect(readChoice({ piano: [] }).piano).toEqual([]);
});

const sound = (voice: Voice, at: number): Sound => ({ voice, at, length: 0.1, midi: [], velocity: 0.5, accent: false });

test('only the chosen voices sound, and the count-in is heard though the click is not chosen', () => {
  const sounds = [
    sound('click', 0),
    sound('click', 1),
    sound('line', 2),
    sound('chords', 2),
    sound('bass', 2),
    sound('click', 2),
    sound('click', 3),
  ];
  expect(soundsOf({ sounds, countIn: 2 }, { voices: ['chords', 'bass'] })).toEqual([0, 1, 3, 4].map((i) => sounds[i]));
  expect(soundsOf({ sounds, countIn: 2 }, { voices: VOICES })).toEqual(sounds);
  expect(soundsOf({ sounds, countIn: 0 }, { voices: ['line'] })).toEqual([sounds[2]]);
});

test('a voice whose slider is at nothing has its usual level', () => {
  const usual = { line: 0.6, chords: 0.5, bass: 0.5, click: 0.3 };
  expect(levelsOf({ line: 1, chords: 0, bass: 0.2, click: 0 }, usual)).toEqual({ line: 1, chords: 0.5, bass: 0.2, click: 0.3 });
});

test('names tell files of one phrase apart', () => {
  expect(endingOf(DEFAULT_CHOICE)).toBe('');
  expect(endingOf({ ...DEFAULT_CHOICE, voices: ['chords', 'bass'], keys: 'all', tempo: 0.8 })).toBe('-play-along-twelve-keys-80');
  expect(voicesWords(['line', 'chords', 'bass'])).toBe('line, chords and bass');
  expect(voicesWords(['bass'])).toBe('bass, to play along');
});
