/** What is rendered for sound files: when what begins, how loud, and by which voice, measured in the samples. No editor is needed for it. */
import { expect, test } from 'vitest';
import type { PianoVoice, Voice } from '../../client/src/score/messages';
import { soundsOf } from '../../client/src/sound/choice';
import type { Take } from '../../server/src/performance/types';
import { ABOVE_BASS, CLOSE, decibels, expectEach, expectOnsets, heardFrom, levelOfMusic, onsetsIn, PEAK, peakOf, type Wav } from './heard';
import { FOOTBRIDGE, modelled } from './takes';
import { rendererOfFile } from './renderer';

const renderer = rendererOfFile();

/** `piano`: which of the voices it plays; `level`: of all voices, 0 to 1. */
function heard(take: Take, voices: readonly Voice[], piano: readonly PianoVoice[] = [], level = 0.8): Promise<Wav> {
  return renderer.render({
    sounds: soundsOf(take, { voices }),
    length: take.length,
    levels: { line: level, chords: level, bass: level, click: level },
    piano,
  });
}

/** Seconds: far enough to be missed, and not as far as the next thing that begins. */
const MOVED = 0.03;

test('at equal levels chords and bass are under the line, with the piano too', async () => {
  const [take] = modelled(FOOTBRIDGE);
  const sounds = take!.sounds.filter(({ voice, at }) => voice === 'line' || at < take!.countIn);
  const line = await heard(take!, ['line']);
  expectOnsets(
    onsetsIn(line),
    sounds.map(({ at }) => at),
  );
  const pianoLine = await heard(take!, ['line'], ['line']);
  const [chords, pianoChords, bass] = [
    await heard(take!, ['chords']),
    await heard(take!, ['chords'], ['chords']),
    await heard(take!, ['bass']),
  ];
  const all = await heard(take!, ['line', 'chords', 'bass', 'click'], ['line', 'chords']);
  const level = (wav: Wav): number => levelOfMusic(wav, take!);
  console.info(
    `levels in dB: ${Object.entries({ line, pianoLine, chords, pianoChords, bass })
      .map(([name, wav]) => `${name} ${level(wav).toFixed(1)}`)
      .join(', ')}`,
  );
  // Strings of a piano beat, which looks like more onsets than there are.
  expectEach(
    sounds.map(({ at }) => at),
    onsetsIn(pianoLine, 0.06),
  );
  for (const above of [line, pianoLine]) {
    for (const under of [chords, pianoChords]) {
      expect(level(above) - level(under)).toBeGreaterThan(6);
      expect(level(above) - level(under)).toBeLessThan(12);
    }
    expect(level(above) - level(bass)).toBeGreaterThan(2);
    expect(level(above) - level(bass)).toBeLessThan(8);
  }
  for (const wav of [line, pianoLine, chords, pianoChords, bass, all]) {
    expect(decibels(peakOf(wav.samples))).toBeLessThan(PEAK);
    expect(wav.samples.length / wav.rate).toBeGreaterThan(take!.length);
  }
});

/** Four bars in which chords and bass have much to do: none that the detector was set by. */
const BUSY = `phrase "Sluice"
  key     Eb major
  tempo   96 swing
  over    | Ebmaj7 Cm7 | Fm7 Bb7 | G7b9 Cm7 F9 Bb13 | Ebmaj7 / Ab7 / |
  line    | G4-Bb D C . | Ab-F C D . | B-D Eb-G A-C D-Bb | G ~ . Gb |
`;

test('each voice alone begins its notes when the take says, synthesized and on the piano', async () => {
  const [take] = modelled(BUSY);
  // The clicks of the count-in are louder than what they count in; a tenth of a second stays before the first note.
  const cut = take!.countIn - 0.1;
  for (const [voice, ...played] of [['line'], ['line', 'line'], ['chords'], ['chords', 'chords'], ['bass']] as const) {
    const wav = await heard(take!, [voice], played);
    const expected = [...new Set(take!.sounds.filter((sound) => sound.voice === voice).map(({ at }) => at - cut))];
    // Above a kilohertz a stroke is heard more clearly than what beats under it.
    const found = onsetsIn(heardFrom(wav, cut), 0.12, ABOVE_BASS);
    console.info(`${voice}${played.length > 0 ? ' on the piano' : ''}: ${expected.length} onsets, ${found.length} found`);
    expectEach(expected, found);
    // What was found is not so much that any time would do.
    const moved = expected.map((at) => at + MOVED);
    expect(moved.filter((at) => found.some((one) => Math.abs(one - at) <= CLOSE)).length).toBeLessThan(expected.length / 2);
  }
});

/** Chords of many notes, accents, high and low, fast. */
const LOUD = `phrase "Weir"
  key     C minor
  tempo   220 straight
  over    | Cm9 F13b9 | Bbmaj9 Eb13#11 | Cm6 |
  line    | C5>-Eb>-G>-C6> A5>-F#>-Eb>-C> D>-F>-A>-C6> G5>-Eb>-C>-A4> | F>-Ab>-C5>-Eb> B4>-D#5>-G>-Bb> F>-Ab>-C6>-Eb> B5>-G>-D>-Bb4> | C5> ~ ~ ~ |
`;

test('nothing is clipped with all levels at their highest, and nothing is softer than it has to be', async () => {
  const [take] = modelled(LOUD);
  for (const piano of [[], ['line', 'chords']] as const) {
    const { samples, raw } = await heard(take!, ['line', 'chords', 'bass', 'click'], piano, 1);
    console.info(`highest peak ${decibels(peakOf(samples)).toFixed(1)} dB of full scale`);
    expect(decibels(peakOf(samples))).toBeLessThan(PEAK);
    expect(decibels(peakOf(samples))).toBeGreaterThan(-12);
    // Two samples alike at the top would be a flat, cut one.
    const top = raw.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
    expect(raw.some((one, i) => Math.abs(one) === top && raw[i + 1] === one && raw[i + 2] === one)).toBe(false);
  }
});
