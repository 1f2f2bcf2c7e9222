/** A handout as a row of blocks: lessons, part by part, each phrase in its keys. */
import type { TheoryOptions } from '../analysis/types';
import { barParagraphs, walkthrough } from '../explain/walkthrough';
import { guarded } from '../model/faults';
import { lessonTitle, openSnapshot, phraseNear, type PlacedPhrase, type Snapshot } from '../model/snapshot';
import type { Engraver } from '../picture/engraver';
import { wordsOf } from '../picture/emphasis';
import { isClaimRule } from '../rules/claim-words';
import { partByName } from '../theory/part';
import type { PartName } from '../theory/types';
import { tellsDegree } from './degree-words';
import { incompleteWords } from './incomplete';
import { line, withoutPicture } from './plain-blocks';
import { phraseHeading } from './heading';
import { paperOf } from './paper';
import { systemsOf } from './pictures';
import { quotedName, shows, type Block, type Handout, type HandoutOptions, type LessonText, type Sheet } from './types';
import { versionsOf, type Version } from './versions';

export interface Tools {
  readonly theory: TheoryOptions;
  readonly engraver: Engraver;
  /** Called after each phrase in each part. */
  readonly onProgress: (done: number, total: number) => void;
}

/** So many phrases have a table of contents. */
const CONTENTS_FROM = 5;

/** Makes a handout of phrases as they are. A phrase that cannot be drawn, or told, has a line in its place, and the fault is told. Throws an error where there is no phrase at all. */
export function makeHandout(lessons: readonly LessonText[], options: HandoutOptions, tools: Tools): Handout {
  const books = lessons.map(({ name, text, at }, i): Book => {
    const snapshot = openSnapshot(name, 1, text);
    const chosen = at === undefined ? null : phraseNear(snapshot, at);
    return {
      snapshot,
      phrases: chosen === null ? snapshot.phrases : [chosen],
      isWhole: at === undefined,
      title: lessonTitle(snapshot) || name,
      index: i,
    };
  });
  const parts = options.parts.length === 0 ? [null] : options.parts;
  const sections = parts.flatMap((part) => books.map((book) => ({ book, part })));
  if (books.every(({ phrases }) => phrases.length === 0))
    throw new Error('There is no phrase to hand out. Write one that begins with the word phrase and a name in quotes.');
  const total = sections.reduce((sum, { book }) => sum + book.phrases.length, 0);
  const notices: string[] = [];
  let done = 0;
  const made = sections.map((section) => sectionOf(section, options, tools, notices, () => tools.onProgress((done += 1), total)));
  const blocks = total < CONTENTS_FROM ? made.flat() : withContents(made);
  return { title: books.map(({ title }) => title).join(', '), blocks, notices: [...new Set(notices)] };
}

interface Book {
  readonly snapshot: Snapshot;
  /** Those that are handed out. */
  readonly phrases: readonly PlacedPhrase[];
  /** What is said of a lesson is not said of one phrase of it. */
  readonly isWhole: boolean;
  readonly title: string;
  readonly index: number;
}

interface Section {
  readonly book: Book;
  /** Null: each phrase for the part it names. */
  readonly part: PartName | null;
}

/** The contents stand before the first phrase. */
function withContents(sections: readonly (readonly Block[])[]): Block[] {
  const entries = sections.flat().flatMap((block): Extract<Block, { kind: 'contents' }>['entries'] => {
    if (block.kind === 'section') return sections.length === 1 ? [] : [{ id: block.id, words: block.name, level: 0 }];
    return block.kind === 'phrase' && block.listed !== null
      ? [{ id: block.id, words: block.listed, level: sections.length === 1 ? 0 : 1 }]
      : [];
  });
  const [first = [], ...others] = sections;
  const at = first.findIndex(({ kind }) => kind === 'phrase');
  const before = at < 0 ? first : first.slice(0, at);
  return [...before, { kind: 'contents', entries }, ...first.slice(before.length), ...others.flat()];
}

function sectionOf(
  { book, part }: Section,
  options: HandoutOptions,
  { theory, engraver }: Tools,
  notices: string[],
  onPhrase: () => void,
): Block[] {
  const { snapshot, phrases, isWhole, title, index } = book;
  const id = `${part ?? 'lesson'}-${index + 1}`;
  const label = part === null ? '' : partByName(part)!.label;
  const joined = (words: readonly string[], by: string): string => words.filter((one) => one !== '').join(by);
  const note = joined([label, SHEET_WORDS[options.sheet] ?? ''], ': ');
  const name = joined([title, label, options.sheet === 'answers' ? 'answers' : ''], ', ');
  const blocks: Block[] = [{ kind: 'section', id, title, note, name }, { kind: 'names' }];
  if (isWhole)
    blocks.push(
      ...guarded(`what is said of the lesson ${quotedName(title)}`, [], () => proseBlocks(aboutOf(snapshot), title, options, notices)),
    );
  for (const [i, placed] of phrases.entries()) {
    const { name: own } = placed.phrase;
    const found = guarded(`the reading of ${quotedName(own)}`, null, () => versionsOf({ snapshot, placed }, part, options.keys, theory));
    const version = (k: number): string => `${id}-${i + 1}-${k + 1}`;
    if (found === null)
      blocks.push({ kind: 'phrase', id: version(0), name: titleOf(own), heading: '', listed: titleOf(own) }, ...withoutPicture(NOT_DRAWN));
    notices.push(...(found?.notices ?? []));
    found?.versions.forEach((one, k) => {
      const incomplete = incompleteWords(own, one.reading.phrase, one.findings);
      const error = one.findings.find(({ severity }) => severity === 'error');
      if (incomplete !== null) notices.push(incomplete);
      else if (error !== undefined) notices.push(`${quotedName(own)} has an error: ${error.message}`);
      blocks.push(...phraseBlocks(one, version(k), k === 0 ? 'whole' : 'notes', { options, engraver, notices }));
    });
    onPhrase();
  }
  return blocks;
}

/** Of the same length on sheet and answers, so that their pages are alike. */
const SHEET_WORDS: Readonly<Partial<Record<Sheet, string>>> = { student: 'write the degree of each note in its box', answers: 'answers' };

function aboutOf({ slices }: Snapshot): string[] {
  const lesson = slices.map(({ parsed }) => parsed.item).find((item) => item.kind === 'lesson');
  return lesson === undefined
    ? []
    : lesson.rows.flatMap((row) =>
        (row.kind === 'about' || row.kind === 'say') && row.text !== null && row.text.value !== '' ? [row.text.value] : [],
      );
}

interface Around {
  readonly options: HandoutOptions;
  readonly engraver: Engraver;
  readonly notices: string[];
}

/** In the place of what broke off. */
const NOT_DRAWN = 'This phrase could not be drawn. That is a fault of Phrasewright, not of the phrase.';
const NOT_TOLD = 'What is said of this phrase could not be told. That is a fault of Phrasewright, not of the phrase.';

/** The title of a phrase by its name. */
function titleOf(name: string): string {
  return name === '' ? 'A phrase without a name' : name;
}

/** What is told of a phrase is true in every key: it is told with the first. */
function phraseBlocks(version: Version, id: string, what: 'whole' | 'notes', around: Around): Block[] {
  const {
    reading: { phrase },
    reading,
    findings,
    key,
  } = version;
  const { options, engraver } = around;
  const [name, quoted] = [titleOf(phrase.name), quotedName(phrase.name)];
  const title: Block = {
    kind: 'phrase',
    id,
    name: key === null ? name : `${name} – ${key}`,
    heading: guarded(`the heading of ${quoted}`, '', () => phraseHeading(reading, 'written')),
    // A phrase in several keys is listed once.
    listed: what === 'whole' ? name : null,
  };
  const picture = guarded(`the notation of ${quoted}`, withoutPicture(NOT_DRAWN), (): Block[] => [
    {
      kind: 'systems',
      systems:
        phrase.bars.length === 0
          ? []
          : systemsOf(
              reading,
              findings.map(({ severity, about, start, end }) => ({ severity, note: about?.note ?? null, start, end })),
              paperOf(options.paper),
              engraver,
              options,
            ),
    },
  ]);
  return [title, ...picture, ...guarded(`what is said of ${quoted}`, [line(NOT_TOLD)], () => toldBlocks(version, what, around))];
}

/** Each finding once: that of a claim is told with the claims, and what the list of findings says of a note the walk-through leaves out. */
function toldBlocks({ reading, asRead, findings }: Version, what: 'whole' | 'notes', { options, notices }: Around): Block[] {
  const told = findings.filter(
    ({ severity, rule }) => (severity === 'warning' || severity === 'error') && !(shows(options, 'claims') && isClaimRule(rule)),
  );
  const blocks = shows(options, 'findings')
    ? list(
        'Findings',
        told.map(({ message, about }) => (about === null ? message : `${placeWords(reading, about.note)}${message}`)),
      )
    : [];
  if (what === 'notes') return blocks;
  blocks.push(...proseBlocks(asRead.phrase.says, titleOf(reading.phrase.name), options, notices));
  const { setting, telling: all, claims } = walkthrough(asRead);
  const telling = shows(options, 'findings') ? all.filter(({ kind }) => kind !== 'warning') : all;
  if (shows(options, 'walkthrough') && reading.phrase.notes.length > 0)
    blocks.push({ kind: 'label', words: 'Walk-through' }, ...[setting, ...barParagraphs(telling)].filter((text) => text !== '').map(line));
  if (shows(options, 'claims')) blocks.push(...list('Claims', claims));
  return blocks;
}

/** Where degrees are to be found, no prose tells them; the answers leave it out too, so that their pages are those of the sheet. */
function proseBlocks(texts: readonly string[], name: string, options: HandoutOptions, notices: string[]): Block[] {
  if (!shows(options, 'says')) return [];
  const kept = options.sheet === 'teacher' ? texts : texts.filter((text) => !tellsDegree(text));
  for (const text of texts)
    if (!kept.includes(text)) notices.push(`“${name}”: this sheet leaves out a text that tells degrees: ${shortened(text)}`);
  return kept.map((text): Block => ({ kind: 'prose', words: wordsOf(text) }));
}

const LONGEST_QUOTE = 70;

/** As it is printed, without the marks of emphasis. */
function shortened(prose: string): string {
  const text = wordsOf(prose)
    .map((words) => words.text)
    .join('');
  return text.length <= LONGEST_QUOTE ? `“${text}”` : `“${text.slice(0, LONGEST_QUOTE).replace(/\s+\S*$/, '')} …”`;
}

function placeWords({ phrase }: Version['reading'], note: number): string {
  const bar = phrase.notes[note]?.bar ?? 0;
  return bar === 0 ? '' : `Bar ${bar}: `;
}

function list(label: string, items: readonly string[]): Block[] {
  return items.length === 0 ? [] : [{ kind: 'label', words: label }, ...items.map((words): Block => ({ kind: 'item', words }))];
}
