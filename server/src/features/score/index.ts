/** The score of a document: each phrase as MusicXML, with what is known of its notes. */
import type { Severity } from '../../../../grammar/tree';
import { devicesOf } from '../../analysis/devices/read';
import { readPhrase } from '../../analysis/read';
import type { Reading, TheoryOptions } from '../../analysis/types';
import { deviceName, deviceWords } from '../../explain/device-words';
import { writeMusicXml } from '../../exports/musicxml';
import type { PlacedPhrase, Snapshot } from '../../model/snapshot';
import type { Phrase } from '../../model/types';
import { findingsOf, type Finding } from '../../rules/findings';
import { formatKey } from '../../theory/key';
import { phraseAt } from '../place';
import { scoreNotes } from './notes';
import type { Score, ScoreFinding, ScoreOptions, ScorePhrase } from './types';

/** The score at an offset of a document; between phrases that of no phrase, unless the whole lesson is asked for. */
export function scoreAt(snapshot: Snapshot, offset: number, theory: TheoryOptions, { scope, pitch }: ScoreOptions): Score {
  const here = phraseAt(snapshot, offset);
  const placed = scope === 'lesson' ? snapshot.phrases : here === null ? [] : [here];
  const findings = placed.length === 0 ? [] : findingsOf(snapshot, theory);
  const lesson = snapshot.slices.map(({ parsed }) => parsed.item).find((item) => item.kind === 'lesson');
  return {
    version: snapshot.version,
    lesson: lesson?.kind === 'lesson' ? (lesson.title?.value ?? null) : null,
    phrases: placed.map((one) => scorePhrase(one, { findings, snapshot, theory, pitch })),
  };
}

interface Asked {
  /** All of the document. */
  readonly findings: readonly Finding[];
  readonly snapshot: Snapshot;
  readonly theory: TheoryOptions;
  readonly pitch: ScoreOptions['pitch'];
}

function scorePhrase({ start, phrase }: PlacedPhrase, { findings: all, snapshot, theory, pitch }: Asked): ScorePhrase {
  const reading = readPhrase(phrase, theory);
  const end = start + phrase.text.length;
  const findings = all.filter((finding) => finding.start >= start && finding.start < end).map(plain);
  return {
    name: phrase.name,
    start,
    end,
    heading: heading(reading),
    tempo: phrase.tempo.bpm,
    musicXml: writeMusicXml([reading], phrase.name, { pitch, degrees: false, words: 'notes' }),
    notes: scoreNotes(reading, start, findings),
    devices: devicesOf(reading).map((device) => ({
      name: deviceName(device.kind),
      from: Math.min(device.from, device.target ?? device.from),
      to: Math.max(device.to, device.target ?? device.to),
      text: deviceWords(device, reading),
    })),
    bars: phrase.bars.map(({ number, onset, length }) => ({ number, from: onset.valueOf(), to: onset.add(length).valueOf() })),
    findings: findings.filter(({ severity }) => severity === 'warning' || severity === 'error'),
    says: phrase.says,
    broken: findings.find(({ severity, start: at }) => severity === 'error' && breaksMusic(reading, at - start)) ?? brokenDefinition(phrase, all, snapshot),
  };
}

function plain({ severity, message, start, end }: Finding): ScoreFinding & { readonly severity: Severity } {
  return { severity, message, start, end };
}

/** Rows whose errors leave the notes and their time as they are. */
const WORDS: ReadonlySet<string> = new Set(['tempo', 'degrees', 'claim', 'say', 'tag', 'level', 'about']);

function breaksMusic({ phrase }: Reading, at: number): boolean {
  const { title, rows } = phrase.item;
  if (title !== null && at >= title.range.start && at <= title.range.end) return false;
  const row = rows.find(({ range }) => at >= range.start && at <= range.end);
  return row === undefined || !WORDS.has(row.kind);
}

/** The first error of a definition that the phrase uses: what cannot be read there is missing here. */
function brokenDefinition(phrase: Phrase, all: readonly Finding[], { slices, definitions }: Snapshot): ScoreFinding | null {
  const used = new Set([
    ...phrase.spans.flatMap(({ definition }) => (definition === null ? [] : [definitions.changes.get(definition.name)])),
    ...phrase.groups.flatMap(({ cell }) => (cell === null ? [] : [definitions.cells.get(cell)])),
  ]);
  if (used.size === 0) return null;
  const places = slices.filter(({ parsed: { item } }) => (item.kind === 'changes' || item.kind === 'cell') && used.has(item));
  const error = all.find(({ severity, start }) => severity === 'error' && places.some((place) => start >= place.start && start < place.start + place.parsed.text.length));
  return error === undefined ? null : plain(error);
}

function heading({ phrase }: Reading): string {
  const { key, tempo, part, level } = phrase;
  const meter = phrase.bars[0]?.meter;
  const feel = tempo.feel === 'swing' && tempo.ratio !== null ? `swing ${tempo.ratio.join(':')}` : tempo.feel;
  return [
    key === null ? null : formatKey(key),
    meter === undefined ? null : `${meter.beats}/${meter.unit}`,
    `${tempo.bpm} ${feel}`,
    part.name === 'concert' ? null : part.label,
    level === null ? null : `level ${level}`,
  ].filter((part) => part !== null).join(', ');
}
