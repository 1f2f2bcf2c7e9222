/** What a score says of a phrase beside its notes: the devices of the chosen reading, and the findings in the words of whoever reads the page. */
import type { Remark } from '../exports/remarks';
import type { MusicXmlOptions } from '../exports/musicxml';
import type { Reading, TheoryOptions } from '../analysis/types';
import type { PlacedPhrase, Snapshot } from '../model/snapshot';
import type { Finding } from '../rules/findings';
import { isAbout, pictureDevices } from './picture-data';
import { findingsIn, versionsOf } from './versions';

export const REMARKS = ['devices', 'findings'] as const;
export type RemarkKind = (typeof REMARKS)[number];

export interface Remarked {
  readonly shown: readonly RemarkKind[];
  /** At written pitch findings speak of the notes that the part reads. */
  readonly pitch: MusicXmlOptions['pitch'];
  readonly theory: TheoryOptions;
}

/** Hints are left out, as in the score. */
export function remarksOf(snapshot: Snapshot, placed: PlacedPhrase, { shown, pitch, theory }: Remarked): Remark[] {
  const version = versionsOf({ snapshot, placed }, null, 'written', theory).versions[0]!;
  const findings = pitch === 'written' ? version.findings : findingsIn({ snapshot, placed }, theory);
  return [
    ...(shown.includes('devices')
      ? pictureDevices(version.reading).map(({ name, from, to }): Remark => ({ kind: 'device', text: name, notes: { from, to }, at: null }))
      : []),
    ...(shown.includes('findings')
      ? findings.filter(({ severity }) => severity !== 'hint').map((finding) => findingRemark(version.reading, finding))
      : []),
  ];
}

function findingRemark({ phrase, notes }: Reading, { message, about, severity, start, end }: Finding): Remark {
  const note = about?.note ?? phrase.notes.find((one) => isAbout({ severity, note: null, start, end }, one))?.index ?? null;
  const sounding = about === null || about.sounding === null ? undefined : notes[about.note]!.soundings[about.sounding];
  return { kind: 'finding', text: message, notes: note === null ? null : { from: note, to: note }, at: sounding?.at ?? null };
}
