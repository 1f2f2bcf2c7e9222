/** The bytes of MIDI files: those that the library writes in one go, without its copying that grows with the square. */
import fc from 'fast-check';
import { writeMidi, type MidiEvent } from 'midi-file';
import { expect, test } from 'vitest';
import { smfBytes } from '../../../server/src/exports/smf';
import { always, RUN } from '../../property/arbitrary';

const note: fc.Arbitrary<MidiEvent> = fc.record({
  deltaTime: fc.nat(100_000),
  type: fc.constantFrom('noteOn' as const, 'noteOff' as const),
  channel: fc.nat(15),
  noteNumber: fc.nat(127),
  velocity: fc.integer({ min: 1, max: 127 }),
});
const text: fc.Arbitrary<MidiEvent> = fc.record({
  deltaTime: fc.nat(300),
  type: fc.constant('marker' as const),
  text: fc.string({ maxLength: 200 }),
});
const END: MidiEvent = { deltaTime: 0, type: 'endOfTrack' };
const track = fc.array(fc.oneof(note, text), { maxLength: 700, size: 'max' }).map((events) => [...events, END]);

test('are those of the library', () => {
  always(
    fc.property(fc.array(track, { minLength: 1, maxLength: 3 }), (tracks) => {
      expect(
        Buffer.from(smfBytes(tracks, 480)).equals(
          Buffer.from(
            writeMidi({ header: { format: 1, numTracks: tracks.length, ticksPerBeat: 480 }, tracks: tracks.map((one) => [...one]) }),
          ),
        ),
      ).toBe(true);
    }),
    { ...RUN, numRuns: 20 },
  );
});

/** Elements that are copied by joining arrays. */
function copied(work: () => void): number {
  const { concat } = Array.prototype;
  let count = 0;
  Array.prototype.concat = function (this: unknown[], ...more: unknown[]): unknown[] {
    count += this.length;
    return Reflect.apply(concat, this, more) as unknown[];
  };
  try {
    work();
  } finally {
    Array.prototype.concat = concat;
  }
  return count;
}

test('a track that is twice as long copies twice as much', () => {
  const long = (count: number): MidiEvent[] => [
    ...Array.from(
      { length: count },
      (_, i): MidiEvent => ({ deltaTime: 480, type: i % 2 === 0 ? 'noteOn' : 'noteOff', channel: 0, noteNumber: 60, velocity: 80 }),
    ),
    END,
  ];
  const [once, twice] = [2000, 4000].map((count) => copied(() => smfBytes([long(count)], 480)));
  expect(once).toBeGreaterThan(0);
  expect(twice! / once!).toBeLessThan(2.2);
});
