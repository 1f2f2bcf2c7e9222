/** Where an engraved picture has ink, read from its own coordinates: nothing has to be laid out by a browser first. */
import { boxOf, slices, type Box } from './boxes';
import { pointsOf, strokesOf, type Point } from './outline';
import { descendants, type Xml } from './xml';

/** A point of the engraver's page, moved and scaled as a `transform` says. */
export function placement({ attributes }: Xml): { readonly x: number; readonly y: number; readonly scale: number } {
  const transform = attributes['transform'] ?? '';
  const [, x, y] = /translate\((-?[\d.]+),?\s*(-?[\d.]+)\)/.exec(transform) ?? [];
  const [, scale] = /scale\((-?[\d.]+)/.exec(transform) ?? [];
  return { x: Number(x ?? 0), y: Number(y ?? 0), scale: Number(scale ?? 1) };
}

const SHAPES: ReadonlySet<string> = new Set(['use', 'path', 'polygon', 'polyline', 'ellipse', 'rect']);

/** Reads the ink of a part of a picture, itself included. */
export type InkReader = (part: Xml) => Box[];

/** `root` holds the glyphs that its parts use. */
export function inkReader(root: Xml): InkReader {
  const named = new Map(
    descendants(root, ({ name }) => name === 'defs').flatMap(({ children }) =>
      children.flatMap((child) => (typeof child === 'string' ? [] : [[child.attributes['id'], child] as const])),
    ),
  );
  const outlines = new Map<string, Box | null>();
  const glyph = (name: string): Box | null => {
    const known = outlines.get(name);
    if (known !== undefined) return known;
    const box = glyphBox(named.get(name));
    outlines.set(name, box);
    return box;
  };
  const inkOf = (shape: Xml): Box[] => {
    const { attributes } = shape;
    switch (shape.name) {
      case 'use': {
        const box = glyph((attributes['href'] ?? '').slice(1));
        const { x, y, scale } = placement(shape);
        return box === null
          ? []
          : [{ left: x + scale * box.left, top: y + scale * box.top, right: x + scale * box.right, bottom: y + scale * box.bottom }];
      }
      case 'path':
        return wider(strokesOf(attributes['d'] ?? '').flatMap(slices), Number(attributes['stroke-width'] ?? 0) / 2);
      case 'ellipse': {
        const [x, y, rx, ry] = numbersOf(shape, 'cx', 'cy', 'rx', 'ry');
        return [{ left: x - rx, top: y - ry, right: x + rx, bottom: y + ry }];
      }
      case 'rect': {
        const [x, y, width, height] = numbersOf(shape, 'x', 'y', 'width', 'height');
        return [{ left: x, top: y, right: x + width, bottom: y + height }];
      }
      default: {
        const points = pointsOf(attributes['points'] ?? '');
        return slices(shape.name === 'polygon' && points[0] !== undefined ? [...points, points[0]] : points);
      }
    }
  };
  const known = new WeakMap<Xml, Box[]>();
  return (part) =>
    [part, ...descendants(part, ({ name }) => SHAPES.has(name))]
      .filter(({ name }) => SHAPES.has(name))
      .flatMap((shape) => {
        const boxes = known.get(shape) ?? inkOf(shape);
        known.set(shape, boxes);
        return boxes;
      });
}

/** The outlines of a font do not change: they are read once for all pictures. */
const read = new Map<string, Box | null>();
const MOST_READ = 500;

function glyphBox(glyph: Xml | undefined): Box | null {
  const d = glyph === undefined ? '' : (descendants(glyph, ({ name }) => name === 'path')[0]?.attributes['d'] ?? '');
  const known = read.get(d);
  if (known !== undefined) return known;
  // Glyphs are drawn upward.
  const box = boxOf(
    strokesOf(d)
      .flat()
      .map(([x, y]): Point => [x, -y]),
  );
  if (read.size >= MOST_READ) read.clear();
  read.set(d, box);
  return box;
}

/** Boxes round lines that are so thick to each side. */
function wider(boxes: Box[], by: number): Box[] {
  return by === 0
    ? boxes
    : boxes.map(({ left, top, right, bottom }) => ({ left: left - by, top: top - by, right: right + by, bottom: bottom + by }));
}

function numbersOf({ attributes }: Xml, ...names: readonly [string, string, string, string]): [number, number, number, number] {
  return names.map((name) => Number(attributes[name] ?? 0)) as [number, number, number, number];
}
