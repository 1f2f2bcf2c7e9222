/** Pitches against ISO 16 (A4 = 440 Hz), the MIDI note numbers, and `tonal` of the npm registry. */
import { Note } from 'tonal';
import { expect, test } from 'vitest';
import { formatPitch, frequency, midi, parsePitch } from '../../server/src/theory/pitch';

test('ISO 16: A4 is 440 Hz, and each octave doubles', () => {
  expect(frequency(parsePitch('A4')!)).toBe(440);
  expect(frequency(parsePitch('A5')!)).toBe(880);
  expect(frequency(parsePitch('A3')!)).toBe(220);
});

test('equal temperament: middle C is 261.63 Hz (a value from memory, to two places)', () => {
  expect(frequency(parsePitch('C4')!)).toBeCloseTo(261.63, 2);
});

test('MIDI: middle C is 60, A4 is 69, the lowest and highest keys of a piano are 21 and 108', () => {
  expect(['C4', 'A4', 'A0', 'C8', 'B#3', 'Cb4'].map((text) => midi(parsePitch(text)!))).toEqual([60, 69, 21, 108, 60, 59]);
});

test('every spelled pitch agrees with tonal in number, frequency and name', () => {
  for (const letter of 'ABCDEFG') {
    for (const accidental of ['', 'b', '#', 'bb', '##']) {
      for (let octave = 0; octave <= 8; octave += 1) {
        const text = `${letter}${accidental}${octave}`;
        const pitch = parsePitch(text)!;
        expect(formatPitch(pitch)).toBe(text);
        expect(midi(pitch)).toBe(Note.get(text).height);
        expect(frequency(pitch)).toBeCloseTo(Note.get(text).freq!, 6);
      }
    }
  }
});
