/** Boxes round what is drawn. */
import type { Point } from './outline';

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A slanted beam is told by boxes no wider than that. */
const SLICE = 150;

/** The box round points; null where there is none. */
export function boxOf(points: readonly Point[]): Box | null {
  if (points.length === 0) return null;
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

/** Boxes along the edges of a run of points. */
export function slices(points: readonly Point[]): Box[] {
  return points.slice(1).flatMap(([x, y], i) => {
    const [x0, y0] = points[i]!;
    // A level edge is its own box.
    const count = y === y0 ? 1 : Math.max(1, Math.ceil(Math.abs(x - x0) / SLICE));
    const at = (k: number): Point => [x0 + ((x - x0) * k) / count, y0 + ((y - y0) * k) / count];
    return Array.from({ length: count }, (_, k) => boxOf([at(k), at(k + 1)])!);
  });
}

/** The highest ink between two places; `otherwise` where there is none. */
export function topBetween(ink: readonly Box[], left: number, right: number, otherwise: number): number {
  return ink.reduce((top, box) => (box.right >= left && box.left <= right ? Math.min(top, box.top) : top), otherwise);
}
