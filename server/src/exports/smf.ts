/** The bytes of a Standard MIDI File. */
import { writeMidi, type MidiEvent } from 'midi-file';

/** The library copies all that it has of a track for many an event, which takes the square of its length: it gets so many events at a time. */
const AT_ONCE = 200;
/** A header chunk, and what a track's chunk begins with: four letters and a length (SMF 1.0). */
const HEADER = 14;
const CHUNK = 8;

/** Of type 1. Each track ends with its `endOfTrack`; no event leaves out its status for being that of the one before. */
export function smfBytes(tracks: readonly (readonly MidiEvent[])[], ticksPerBeat: number): Uint8Array {
  const header = { format: 1, numTracks: tracks.length, ticksPerBeat } as const;
  const parts: Uint8Array[] = [Uint8Array.from(writeMidi({ header, tracks: tracks.map(() => []) }).slice(0, HEADER))];
  for (const track of tracks) {
    const events: Uint8Array[] = [];
    for (let i = 0; i < track.length; i += AT_ONCE)
      events.push(Uint8Array.from(writeMidi({ header, tracks: [track.slice(i, i + AT_ONCE)] }).slice(HEADER + CHUNK)));
    const begin = new Uint8Array(CHUNK);
    begin.set(new TextEncoder().encode('MTrk'));
    new DataView(begin.buffer).setUint32(
      4,
      events.reduce((sum, { length }) => sum + length, 0),
    );
    parts.push(begin, ...events);
  }
  return joined(parts);
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
