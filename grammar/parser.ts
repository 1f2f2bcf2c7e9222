/** Text to tree. Parsing never throws: it answers a tree and a list of problems for any text. */
import { EmbeddedActionsParser, type IToken } from 'chevrotain';
import { buildSlice } from './build';
import type { RawRow, RawSegment } from './raw-row';
import { sliceFile } from './slices';
import {
  ALL_TOKENS, BarLine, ChordsKeyword, Comment, GluedComment, LineBreak, NewLine, NotesKeyword, Piece, PlainWord, Quoted, RepeatSign, RowEnd,
  Space, tokenize, WordsKeyword,
} from './tokens';
import type { ParsedSlice, PlacedSlice } from './tree';

/** Rows and comments of a slice. `skipValidations` because the grammar's self-check needs a newer Node than the oldest one supported. */
export class RowParser extends EmbeddedActionsParser {
  readonly comments: IToken[] = [];
  readonly glued: IToken[] = [];

  constructor(skipValidations = true) {
    super(ALL_TOKENS, { skipValidations, recoveryEnabled: false });
    this.performSelfAnalysis();
  }

  readonly slice = this.RULE('slice', (): RawRow[] => {
    const rows: RawRow[] = [];
    this.MANY(() => {
      this.OR([
        { ALT: () => this.CONSUME(NewLine) },
        { ALT: () => this.CONSUME(Space) },
        { ALT: () => this.SUBRULE(this.comment) },
        { ALT: () => { const row = this.SUBRULE(this.row); this.ACTION(() => rows.push(row)); } },
      ]);
    });
    return rows;
  });

  private readonly comment = this.RULE('comment', () => {
    const token = this.CONSUME(Comment);
    this.ACTION(() => this.comments.push(token));
  });

  private readonly row = this.RULE('row', (): RawRow => {
    const keyword = this.OR([
      { ALT: () => this.CONSUME(NotesKeyword) },
      { ALT: () => this.CONSUME(ChordsKeyword) },
      { ALT: () => this.CONSUME(WordsKeyword) },
    ]);
    const segments: RawSegment[] = [this.SUBRULE(this.segment)];
    const barLines: IToken[] = [];
    this.MANY(() => {
      const line = this.OR1([{ ALT: () => this.CONSUME(BarLine) }, { ALT: () => this.CONSUME(RepeatSign) }]);
      const segment = this.SUBRULE1(this.segment);
      this.ACTION(() => {
        barLines.push(line);
        segments.push(segment);
      });
    });
    this.OPTION(() => this.CONSUME(RowEnd));
    return { keyword, segments, barLines };
  });

  private readonly segment = this.RULE('segment', (): RawSegment => {
    const words: IToken[][] = [];
    let broken = false;
    this.MANY(() => {
      this.OR([
        { ALT: () => this.CONSUME(Space) },
        { ALT: () => { this.CONSUME(LineBreak); broken = true; } },
        { ALT: () => this.SUBRULE(this.comment) },
        { ALT: () => { const token = this.CONSUME(GluedComment); this.ACTION(() => this.glued.push(token)); } },
        { ALT: () => words.push([this.CONSUME(Quoted)]) },
        { ALT: () => words.push([this.CONSUME(PlainWord)]) },
        { ALT: () => words.push(this.SUBRULE(this.word)) },
      ]);
    });
    return { words, broken };
  });

  private readonly word = this.RULE('word', (): IToken[] => {
    const tokens: IToken[] = [];
    this.AT_LEAST_ONE(() => tokens.push(this.CONSUME(Piece)));
    return tokens;
  });
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
