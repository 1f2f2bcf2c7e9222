/** A score's parts with their measures, whether the file goes part by part or measure by measure. */
import { Unreadable } from './unreadable';
import { childOf, childrenOf, numberAt, textAt, type XmlNode } from './xml';

export interface ScorePart {
  readonly id: string;
  readonly name: string;
  /** MusicXML `instrument-sound`, such as `wind.reed.saxophone.tenor`. */
  readonly sound: string | null;
  /** General MIDI program, from 1. */
  readonly program: number | null;
  readonly measures: readonly XmlNode[];
}

export interface ScoreDocument {
  readonly title: string | null;
  /** `Composer: …`, in the file's order. */
  readonly credits: readonly string[];
  readonly parts: readonly ScorePart[];
}

/** Reads `score-partwise` and `score-timewise` of MusicXML 1 to 4. Throws `Unreadable`. */
export function readDocument(root: XmlNode): ScoreDocument {
  if (root.name !== 'score-partwise' && root.name !== 'score-timewise') {
    throw new Unreadable(
      `this is XML, but no MusicXML score: its root is <${root.name.slice(0, 40)}>, not <score-partwise> or <score-timewise>.`,
    );
  }
  const listed = childrenOf(childOf(root, 'part-list') ?? root, 'score-part');
  if (listed.length === 0) throw new Unreadable('the score lists no part in its part-list.');
  const measures = root.name === 'score-partwise' ? partwise(root) : timewise(root);
  const parts = listed.map((part): ScorePart => {
    const id = part.attributes['id'] ?? '';
    const own = measures.get(id);
    if (own === undefined) throw new Unreadable(`part ${id} is listed, but the score has no part of that name.`);
    if (own.length === 0) throw new Unreadable(`part ${id} has no measure.`);
    return {
      id,
      name: textAt(part, 'part-name') ?? '',
      measures: own,
      sound: textAt(part, 'score-instrument', 'instrument-sound'),
      program: numberAt(part, 'midi-instrument', 'midi-program'),
    };
  });
  const uneven = parts.find((part) => part.measures.length !== parts[0]!.measures.length);
  if (uneven !== undefined)
    throw new Unreadable(
      `part ${uneven.id} has ${uneven.measures.length} measures, part ${parts[0]!.id} ${parts[0]!.measures.length}: a measure is missing.`,
    );
  return { title: textAt(root, 'work', 'work-title') ?? textAt(root, 'movement-title'), credits: creditsOf(root), parts };
}

function partwise(root: XmlNode): Map<string, XmlNode[]> {
  return new Map(childrenOf(root, 'part').map((part) => [part.attributes['id'] ?? '', childrenOf(part, 'measure')]));
}

function timewise(root: XmlNode): Map<string, XmlNode[]> {
  const parts = new Map<string, XmlNode[]>();
  childrenOf(root, 'measure').forEach((measure, i) => {
    for (const part of childrenOf(measure, 'part')) {
      const id = part.attributes['id'] ?? '';
      const own = parts.get(id) ?? [];
      if (own.length !== i)
        throw new Unreadable(`measure ${measure.attributes['number'] ?? i + 1}: part ${id} is missing from the measure before it.`);
      own.push({ ...measure, children: part.children });
      parts.set(id, own);
    }
  });
  return parts;
}

function creditsOf(root: XmlNode): string[] {
  const identification = childOf(root, 'identification');
  if (identification === undefined) return [];
  const creators = childrenOf(identification, 'creator')
    .filter(({ text }) => text !== '')
    .map(({ attributes, text }) => {
      // An attribute may be there and say nothing.
      const role = attributes['type'] || 'by';
      return `${role[0]!.toUpperCase()}${role.slice(1)}: ${text}`;
    });
  return [
    ...creators,
    ...childrenOf(identification, 'rights')
      .filter(({ text }) => text !== '')
      .map(({ text }) => `Rights: ${text}`),
  ];
}

/** The part that is asked for by id, by its place from 1, or by name in any case; the first one unless told. Throws `Unreadable`. */
export function choosePart({ parts }: ScoreDocument, asked: string | undefined): ScorePart {
  if (asked === undefined) return parts[0]!;
  const lower = asked.trim().toLowerCase();
  const found = parts.find(({ id }) => id === asked) ?? parts.find(({ name }) => name.toLowerCase() === lower) ?? parts[Number(lower) - 1];
  if (found === undefined)
    throw new Unreadable(
      `there is no part “${asked}”. The parts are ${parts.map(({ id, name }) => (name === '' ? id : `${id} (${name})`)).join(', ')}.`,
    );
  return found;
}
