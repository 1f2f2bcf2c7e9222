/** Engraving: MusicXML in, one SVG a system out. The engraving library (verovio) is handed in: the page has its own, a worker another. */
import { barsOf, inRoom, type Line } from './bars';
import { evenBreaks, lastIsCrowded, overfull, withBreaks } from './breaks';
import type { PictureNote } from './types';

/** The parts of the library's toolkit that are used here. */
export interface Toolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void;
  loadData(data: string): unknown;
  getPageCount(): number;
  renderToSVG(page: number): string;
}

/** A document to be engraved, and the figures that are to have room under its notes. */
export interface Engraving {
  readonly musicXml: string;
  readonly notes: readonly Pick<PictureNote, 'figure' | 'later'>[];
}

export interface Engraver {
  /** The systems of a document as SVG texts, for a page so wide (CSS pixels); none where it has no bar. Throws where the document cannot be read. */
  engrave(engraving: Engraving, width: number): readonly string[];
  /** Whether that picture is at hand, so that it costs nothing. */
  has(engraving: Engraving, width: number): boolean;
}

/** The size of the staff: per cent of the library's own. */
const SCALE = 40;
/** Left and right of a system, in pixels of the library; a picture has ten units for each. */
const MARGIN = 10;
const UNITS = 10;
/** A last system that fills less than that of its width is not stretched. */
const LAST_JUSTIFIED = 0.4;
/** The library's own style sheet in a picture: a page's policy would refuse it, and the page has its own. */
const STYLE = /<style[\s\S]*?<\/style>/g;
/** How many pictures are kept, those used last: more than a lesson has phrases, so that an edit engraves its own phrase alone. */
const MOST_KEPT = 600;

export function createEngraver(verovio: Toolkit): Engraver {
  const pictures = createKept<readonly string[]>();
  /** What a document needs is the same on a page of any width. */
  const lines = createKept<Line>();
  const keyOf = ({ musicXml, notes }: Engraving): string =>
    `${notes.map(({ figure, later }) => [figure, ...later.map((one) => one.figure)].join('/')).join(' ')} ${musicXml}`;
  return {
    has: (engraving, width) => pictures.has(`${width} ${keyOf(engraving)}`),
    engrave(engraving, width) {
      const key = keyOf(engraving);
      return pictures.of(`${width} ${key}`, () =>
        engraved(verovio, engraving, Math.round((width * 100) / SCALE), (measured) => lines.of(key, measured)),
      );
    },
  };
}

interface Kept<T> {
  has(key: string): boolean;
  /** What is kept by that key, or what `make` answers. */
  of(key: string, make: () => T): T;
}

function createKept<T>(): Kept<T> {
  const kept = new Map<string, T>();
  return {
    has: (key) => kept.has(key),
    of(key, make) {
      const found = kept.get(key) ?? make();
      // A map keeps the order of its keys: the first is the one that was used longest ago.
      kept.delete(key);
      kept.set(key, found);
      for (const oldest of kept.keys()) {
        if (kept.size <= MOST_KEPT) break;
        kept.delete(oldest);
      }
      return found;
    },
  };
}

/** `lineOf` answers what is known of the line, or measures it. */
function engraved(
  verovio: Toolkit,
  { musicXml, notes }: Engraving,
  pageWidth: number,
  lineOf: (measured: () => Line) => Line,
): readonly string[] {
  const set = (
    document: string,
    options: { readonly pageWidth: number; readonly breaks: 'none' | 'line' | 'auto'; readonly minLastJustification: number },
  ): void => {
    verovio.setOptions({
      ...options,
      // A page too low for two systems makes each a page of its own, so that only those that an edit changed are drawn anew.
      pageHeight: 100,
      adjustPageHeight: true,
      scale: SCALE,
      pageMarginTop: 20,
      pageMarginBottom: 0,
      pageMarginLeft: MARGIN,
      pageMarginRight: MARGIN,
      header: 'none',
      footer: 'none',
      svgViewBox: true,
      svgRemoveXlink: true,
      xmlIdSeed: 1,
      smuflTextFont: 'none',
      spacingLinear: 0.3,
      spacingNonLinear: 0.6,
    });
    // The library answers 1 for a document it has read.
    if (!verovio.loadData(document)) throw new Error('The score could not be engraved.');
  };
  const picture = (page: number): string => verovio.renderToSVG(page).replace(STYLE, '');
  // One endless line is set in a fraction of the time, and says how wide the bars are.
  const line = lineOf(() => {
    set(musicXml, { pageWidth, breaks: 'none', minLastJustification: LAST_JUSTIFIED });
    return barsOf(picture(1), notes);
  });
  const room = (pageWidth - 2 * MARGIN) * UNITS;
  const { bars, crowded } = inRoom(line, room);
  const { head } = line;
  // A page without a bar is as high as nothing.
  if (bars.length === 0) return [];
  // A bar that is too full for a system of its own makes all of them wider, and so smaller to see, rather than be pressed together.
  const times = overfull({ bars, crowded });
  const widths = { bars: bars.map((width) => width / times), crowded };
  const breaks = evenBreaks(widths);
  set(withBreaks(musicXml, breaks), {
    pageWidth: pageWidth + Math.round(((room - head) * (times - 1)) / UNITS),
    breaks: breaks.length === 0 ? 'auto' : 'line',
    minLastJustification: lastIsCrowded(widths, breaks) ? 0 : LAST_JUSTIFIED,
  });
  return Array.from({ length: verovio.getPageCount() }, (_, i) => picture(i + 1));
}
