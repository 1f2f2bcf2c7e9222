/** Where lines and curves go: the points of SVG path data and of `points`, curves cut into short straight edges. */
import { SVGPathData } from 'svg-pathdata';

export type Point = readonly [x: number, y: number];

/** How many edges a curve is cut into: its ties and heads are small beside a staff space. */
const CUTS = 4;

/** The strokes of path data, each a run of points; none where it is no path data. */
export function strokesOf(d: string): Point[][] {
  const strokes: Point[][] = [];
  for (const command of commandsOf(d)) {
    if (command.type === SVGPathData.MOVE_TO) strokes.push([[command.x, command.y]]);
    const stroke = strokes.at(-1);
    const from = stroke?.at(-1);
    if (stroke === undefined || from === undefined) continue;
    if (command.type === SVGPathData.LINE_TO) stroke.push([command.x, command.y]);
    if (command.type !== SVGPathData.CURVE_TO) continue;
    const curve = [from, [command.x1, command.y1], [command.x2, command.y2], [command.x, command.y]] as const;
    for (let i = 1; i <= CUTS; i += 1) stroke.push(onCurve(curve, i / CUTS));
  }
  return strokes;
}

/** Moves, lines and cubic curves alone, in absolute places. */
function commandsOf(d: string): SVGPathData['commands'] {
  try {
    const path = new SVGPathData(d);
    // Such data has an error from its start, and is not drawn (SVG 2, section 9.3.1: "path data must begin with a moveto").
    if (path.commands[0]?.type !== SVGPathData.MOVE_TO) return [];
    return path.toAbs().normalizeHVZ().normalizeST().qtToC().aToC().commands;
  } catch (error) {
    // A shape that the engraver wrote wrong is drawn by nobody: it has no ink.
    if (error instanceof SyntaxError) return [];
    throw error;
  }
}

function onCurve([p, a, b, q]: readonly [Point, Point, Point, Point], t: number): Point {
  const u = 1 - t;
  const on = (k: 0 | 1): number => u * u * u * p[k] + 3 * u * u * t * a[k] + 3 * u * t * t * b[k] + t * t * t * q[k];
  return [on(0), on(1)];
}

/** The points of a polygon or polyline. */
export function pointsOf(points: string): Point[] {
  const numbers = (points.match(/-?[\d.]+/g) ?? []).map(Number);
  return Array.from({ length: Math.floor(numbers.length / 2) }, (_, i) => [numbers[2 * i]!, numbers[2 * i + 1]!]);
}
