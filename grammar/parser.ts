/** Text to tree. Parsing never throws: it answers a tree and a list of problems for any text. */
import { EmbeddedActionsParser, type IToken } from 'chevrotain';
import { buildSlice } from './build';
import type { RawRow, RawSegment } from './raw-row';
import { sliceFile } from './slices';
import {
  ALL_TOKENS,
  BarLine,
  ChordsKeyword,
  Comment,
  GluedComment,
  LineBreak,
  NewLine,
  NotesKeyword,
  Piece,
  PlainWord,
  Quoted,
  RepeatSign,
  RowEnd,
  tokenize,
  WordsKeyword,
} from './tokens';
import type { ParsedSlice, PlacedSlice } from './tree';

/**
 * Rows and comments of a slice. The alternatives are made once, since the parser is asked for them at every token. `skipValidations` because the
 * grammar's self-check needs a newer Node than the oldest one supported.
 */
export class RowParser extends EmbeddedActionsParser {
  readonly comments: IToken[] = [];
  readonly glued: IToken[] = [];
  private rows: RawRow[] = [];
  /** Of the segment that is being read. */
  private words: IToken[][] = [];
  private broken = false;
  /** Where the last piece of music ends: one that begins there goes on with its word. */
  private end = -1;

  constructor(skipValidations = true) {
    super(ALL_TOKENS, { skipValidations, recoveryEnabled: false });
    this.performSelfAnalysis();
  }

  private readonly inSlice = [
    { ALT: () => this.CONSUME(NewLine) },
    { ALT: () => this.SUBRULE(this.comment) },
    { ALT: () => this.rows.push(this.SUBRULE(this.row)) },
  ];

  readonly slice = this.RULE('slice', (): RawRow[] => {
    this.rows = [];
    this.MANY(() => this.OR(this.inSlice));
    return this.rows;
  });

  private readonly comment = this.RULE('comment', () => {
    const token = this.CONSUME(Comment);
    this.ACTION(() => this.comments.push(token));
  });

  private readonly keywords = [
    { ALT: () => this.CONSUME(NotesKeyword) },
    { ALT: () => this.CONSUME(ChordsKeyword) },
    { ALT: () => this.CONSUME(WordsKeyword) },
  ];

  private readonly lines = [{ ALT: () => this.CONSUME(BarLine) }, { ALT: () => this.CONSUME(RepeatSign) }];

  private readonly row = this.RULE('row', (): RawRow => {
    const keyword = this.OR(this.keywords);
    const segments: RawSegment[] = [this.SUBRULE(this.segment)];
    const barLines: IToken[] = [];
    this.MANY(() => {
      barLines.push(this.OR1(this.lines));
      segments.push(this.SUBRULE1(this.segment));
    });
    this.OPTION(() => this.CONSUME(RowEnd));
    return { keyword, segments, barLines };
  });

  private readonly inSegment = [
    { ALT: () => this.gather(this.CONSUME(Piece)) },
    { ALT: () => void this.words.push([this.CONSUME(PlainWord)]) },
    { ALT: () => void this.words.push([this.CONSUME(Quoted)]) },
    {
      ALT: () => {
        this.CONSUME(LineBreak);
        this.broken = true;
      },
    },
    { ALT: () => this.SUBRULE(this.comment) },
    {
      ALT: () => {
        const token = this.CONSUME(GluedComment);
        this.ACTION(() => this.glued.push(token));
      },
    },
  ];

  private readonly segment = this.RULE('segment', (): RawSegment => {
    this.words = [];
    this.broken = false;
    this.end = -1;
    this.MANY(() => this.OR(this.inSegment));
    return { words: this.words, broken: this.broken };
  });

  private gather(piece: IToken): void {
    const last = this.words[this.words.length - 1];
    if (last !== undefined && piece.startOffset === this.end) last.push(piece);
    else this.words.push([piece]);
    this.end = piece.startOffset + piece.image.length;
  }
}

let parser: RowParser | null = null;

/** Parses one slice: a top-level item and what belongs to it. */
export function parseSlice(text: string): ParsedSlice {
  parser ??= new RowParser();
  const { tokens } = tokenize(text);
  parser.input = tokens;
  parser.comments.length = 0;
  parser.glued.length = 0;
  const rows = parser.slice() ?? [];
  return buildSlice(text, rows, [...parser.comments], [...parser.glued]);
}

/** Parses a file; slices whose text stands in `previous` are taken over from there, as the same objects. */
export function parseFile(text: string, previous: readonly PlacedSlice[] = []): PlacedSlice[] {
  const known = new Map(previous.map(({ parsed }) => [parsed.text, parsed]));
  return sliceFile(text).map(({ start, text: slice }) => {
    const parsed = known.get(slice) ?? parseSlice(slice);
    known.set(slice, parsed);
    return { start, parsed };
  });
}
