/** The engraving library (verovio, LGPL): a file of its own, loaded when the page opens. MusicXML in, one SVG a system out. */
import { barWidths, evenBreaks, withBreaks } from './breaks';

/** The parts of the library's toolkit that are used here. */
interface Toolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void;
  loadData(data: string): unknown;
  getPageCount(): number;
  renderToSVG(page: number): string;
}
interface ToolkitModule {
  readonly VerovioToolkit: new (engine: unknown) => Toolkit;
}
interface EngineModule {
  readonly default: () => Promise<unknown>;
}

export interface Engraver {
  /** The systems of a document as SVG texts, for a page so wide (CSS pixels). Throws where the document cannot be read. */
  engrave(musicXml: string, width: number): readonly string[];
  /** Whether that picture is at hand, so that it costs nothing. */
  has(musicXml: string, width: number): boolean;
}

/** The size of the staff: per cent of the library's own. */
const SCALE = 40;
/** Left and right of a system, in pixels of the library; a picture has ten units for each. */
const MARGIN = 10;
const UNITS = 10;
/** A last system that fills less than that of its width is not stretched. */
const LAST_JUSTIFIED = 0.4;
/** The library's own style sheet in a picture: the page's policy would refuse it, and the page has its own. */
const STYLE = /<style[\s\S]*?<\/style>/g;
/** How many pictures are kept, those used last: more than a lesson has phrases, so that an edit engraves its own phrase alone. */
const MOST_KEPT = 600;

export async function loadEngraver(engine: string, toolkit: string): Promise<Engraver> {
  const [{ default: createEngine }, { VerovioToolkit }] = await Promise.all([import(engine) as Promise<EngineModule>, import(toolkit) as Promise<ToolkitModule>]);
  const verovio = new VerovioToolkit(await createEngine());
  const kept = new Map<string, readonly string[]>();
  const keyOf = (musicXml: string, width: number): string => `${width} ${musicXml}`;
  const keep = (key: string, systems: readonly string[]): readonly string[] => {
    // A map keeps the order of its keys: the first is the one that was used longest ago.
    kept.delete(key);
    kept.set(key, systems);
    for (const oldest of kept.keys()) {
      if (kept.size <= MOST_KEPT) break;
      kept.delete(oldest);
    }
    return systems;
  };
  return {
    has: (musicXml, width) => kept.has(keyOf(musicXml, width)),
    engrave(musicXml, width) {
      const key = keyOf(musicXml, width);
      const known = kept.get(key);
      if (known !== undefined) return keep(key, known);
      const pageWidth = Math.round((width * 100) / SCALE);
      const set = (document: string, breaks: 'none' | 'line' | 'auto'): void => {
        verovio.setOptions({
          // A page too low for two systems makes each a page of its own, so that only those that an edit changed are drawn anew.
          pageHeight: 100, adjustPageHeight: true, pageWidth, scale: SCALE, breaks,
          pageMarginTop: 20, pageMarginBottom: 0, pageMarginLeft: MARGIN, pageMarginRight: MARGIN, minLastJustification: LAST_JUSTIFIED,
          header: 'none', footer: 'none', svgViewBox: true, svgRemoveXlink: true, xmlIdSeed: 1, smuflTextFont: 'none', spacingLinear: 0.3, spacingNonLinear: 0.6,
        });
        // The library answers 1 for a document it has read.
        if (!verovio.loadData(document)) throw new Error('The score could not be engraved.');
      };
      // One endless line is set in a fraction of the time, and says how wide the bars are.
      set(musicXml, 'none');
      const breaks = evenBreaks(barWidths(verovio.renderToSVG(1), (pageWidth - 2 * MARGIN) * UNITS));
      set(withBreaks(musicXml, breaks), breaks.length === 0 ? 'auto' : 'line');
      const systems = Array.from({ length: verovio.getPageCount() }, (_, i) => verovio.renderToSVG(i + 1).replace(STYLE, ''));
      return keep(key, systems);
    },
  };
}
