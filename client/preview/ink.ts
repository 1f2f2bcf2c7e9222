/** Where an engraved picture has ink, read from its own coordinates: nothing has to be laid out by the browser first. */
import { boxOf, slices, type Box } from './boxes';
import { pointsOf, strokesOf, type Point } from './outline';

/** A point of the engraver's page, moved and scaled as a `transform` says. */
export function placement(element: Element): { readonly x: number; readonly y: number; readonly scale: number } {
  const transform = element.getAttribute('transform') ?? '';
  const [, x, y] = /translate\((-?[\d.]+),?\s*(-?[\d.]+)\)/.exec(transform) ?? [];
  const [, scale] = /scale\((-?[\d.]+)/.exec(transform) ?? [];
  return { x: Number(x ?? 0), y: Number(y ?? 0), scale: Number(scale ?? 1) };
}

/** Reads the ink of parts of a picture; `root` holds the glyphs that its parts use. */
export function inkReader(root: Element): (part: Element) => Box[] {
  const outlines = new Map<string, Box | null>();
  const glyph = (name: string): Box | null => {
    const known = outlines.get(name);
    if (known !== undefined) return known;
    // Glyphs are drawn upward.
    const strokes = strokesOf(root.querySelector(`[id="${name}"] path`)?.getAttribute('d') ?? '');
    const box = boxOf(strokes.flat().map(([x, y]): Point => [x, -y]));
    outlines.set(name, box);
    return box;
  };
  const used = (use: Element): Box[] => {
    const box = glyph((use.getAttribute('href') ?? '').slice(1));
    const { x, y, scale } = placement(use);
    return box === null ? [] : [{ left: x + scale * box.left, top: y + scale * box.top, right: x + scale * box.right, bottom: y + scale * box.bottom }];
  };
  return (part) => [...part.querySelectorAll('use, path, polygon, polyline, ellipse, rect')].flatMap((shape) => {
    switch (shape.localName) {
      case 'use':
        return used(shape);
      case 'path':
        return strokesOf(shape.getAttribute('d') ?? '').flatMap(slices);
      case 'ellipse': {
        const [x, y, rx, ry] = numbersOf(shape, 'cx', 'cy', 'rx', 'ry');
        return [{ left: x - rx, top: y - ry, right: x + rx, bottom: y + ry }];
      }
      case 'rect': {
        const [x, y, width, height] = numbersOf(shape, 'x', 'y', 'width', 'height');
        return [{ left: x, top: y, right: x + width, bottom: y + height }];
      }
      default: {
        const points = pointsOf(shape.getAttribute('points') ?? '');
        return slices(shape.localName === 'polygon' && points[0] !== undefined ? [...points, points[0]] : points);
      }
    }
  });
}

function numbersOf(shape: Element, ...names: readonly [string, string, string, string]): [number, number, number, number] {
  return names.map((name) => Number(shape.getAttribute(name) ?? 0)) as [number, number, number, number];
}
