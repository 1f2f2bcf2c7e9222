/** Reads Standard MIDI Files by jzz-midi-smf (MIT), which shares no code with the library that writes them. */
import JZZ from 'jzz';
import install from 'jzz-midi-smf';
import { expect } from 'vitest';

install(JZZ);

export interface Smf extends ReadonlyArray<Track> {
  readonly type: number;
  readonly ppqn: number;
}
export type Track = ReadonlyArray<Message>;
export interface Message extends ReadonlyArray<number> {
  readonly tt: number;
  /** Of a meta event: its kind and its data. */
  readonly ff?: number;
  readonly dd?: string;
}

export function readSmf(bytes: Uint8Array): Smf {
  return new (JZZ as unknown as { MIDI: { SMF: new (data: string) => Smf } }).MIDI.SMF(Buffer.from(bytes).toString('latin1'));
}

export interface Heard {
  readonly on: number;
  readonly off: number;
  readonly midi: number;
}

/** Note-ons with the note-off that ends each. */
export function notesIn(track: Track): Heard[] {
  const notes: Heard[] = [];
  const open = new Map<number, number[]>();
  for (const message of track) {
    const [status, midi] = [message[0]! & 0xf0, message[1]!];
    if (status === 0x90) open.set(midi, [...(open.get(midi) ?? []), message.tt]);
    if (status !== 0x80) continue;
    const [on, ...rest] = open.get(midi)!;
    open.set(midi, rest);
    notes.push({ on: on!, off: message.tt, midi });
  }
  expect([...open.values()].flat()).toEqual([]);
  return notes.sort((a, b) => a.on - b.on || a.midi - b.midi);
}
