/** Where lines and curves go: the points of SVG path data and of `points`, curves cut into short straight edges. */

export type Point = readonly [x: number, y: number];

/** How many edges a curve is cut into: its ties and heads are small beside a staff space. */
const CUTS = 4;
const NUMBERS: Readonly<Record<string, number>> = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2, a: 7, z: 0 };

/** The strokes of path data, each a run of points. What is no path data ends the reading. */
export function strokesOf(d: string): Point[][] {
  const words = d.match(/[a-zA-Z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi) ?? [];
  const strokes: Point[][] = [];
  let [at, start, control]: [Point, Point, Point] = [[0, 0], [0, 0], [0, 0]];
  let command = '';
  const to = (point: Point): void => {
    strokes[strokes.length - 1]?.push(point);
    at = point;
  };
  const curve = (a: Point, b: Point, end: Point): void => {
    const from = at;
    for (let i = 1; i <= CUTS; i += 1) to(onCurve([from, a, b, end], i / CUTS));
    control = b;
  };
  for (let i = 0; i < words.length;) {
    if (/[a-z]/i.test(words[i]!)) {
      command = words[i]!;
      i += 1;
    } else if (command === '') {
      break;
    }
    const kind = command.toLowerCase();
    const count = NUMBERS[kind];
    if (count === undefined) break;
    const own = words.slice(i, i + count).map(Number);
    if (own.length < count || own.some(Number.isNaN)) break;
    i += count;
    const [x0, y0] = command === kind ? at : [0, 0];
    const point = (k: number): Point => [x0 + own[k]!, y0 + own[k + 1]!];
    // What a smooth curve goes on from, where the command before was a curve.
    const before = control;
    control = at;
    const mirrored: Point = [2 * at[0] - before[0], 2 * at[1] - before[1]];
    if (kind === 'm') {
      at = start = point(0);
      strokes.push([at]);
      // Further pairs are lines.
      command = command === 'm' ? 'l' : 'L';
    } else if (kind === 'l') to(point(0));
    else if (kind === 'h') to([x0 + own[0]!, at[1]]);
    else if (kind === 'v') to([at[0], y0 + own[0]!]);
    else if (kind === 'c') curve(point(0), point(2), point(4));
    else if (kind === 's') curve(mirrored, point(0), point(2));
    else if (kind === 'q') curve(point(0), point(0), point(2));
    else if (kind === 't') curve(mirrored, mirrored, point(0));
    else if (kind === 'a') to(point(5));
    else if (kind === 'z') {
      to(start);
      command = '';
    }
    if (!'csqt'.includes(kind)) control = at;
  }
  return strokes;
}

function onCurve([p, a, b, q]: readonly [Point, Point, Point, Point], t: number): Point {
  const [u, v] = [1 - t, t];
  const on = (k: 0 | 1): number => u * u * u * p[k] + 3 * u * u * v * a[k] + 3 * u * v * v * b[k] + v * v * v * q[k];
  return [on(0), on(1)];
}

/** The points of a polygon or polyline. */
export function pointsOf(points: string): Point[] {
  const numbers = (points.match(/-?[\d.]+/g) ?? []).map(Number);
  return Array.from({ length: Math.floor(numbers.length / 2) }, (_, i) => [numbers[2 * i]!, numbers[2 * i + 1]!]);
}
