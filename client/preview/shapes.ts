/** The shapes that tell roles apart without colour, and the lines drawn under the staff, as SVG path data round a centre. */
import type { ScoreNote } from '../src/score/messages';

export type Role = NonNullable<ScoreNote['role']>;

export const ROLES: readonly { readonly role: Role; readonly words: string; readonly shape: string }[] = [
  { role: 'chord-tone', words: 'chord tone', shape: 'a bar' },
  { role: 'tension', words: 'tension', shape: 'a ring' },
  { role: 'avoid', words: 'avoid note', shape: 'a wedge' },
  { role: 'outside', words: 'outside the scale', shape: 'a cross' },
  { role: 'blue', words: 'blue note', shape: 'a bow' },
];

/** A mark `size` high round a centre. */
export function rolePath(role: Role, x: number, y: number, size: number): string {
  const r = size / 2;
  switch (role) {
    case 'chord-tone':
      return `M${x - r * 1.3} ${y - r * 0.35}h${r * 2.6}v${r * 0.7}h${-r * 2.6}z`;
    case 'tension':
      return `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;
    case 'avoid':
      return `M${x - r * 1.2} ${y - r}h${r * 2.4}L${x} ${y + r}z`;
    case 'outside':
      return `M${x - r} ${y - r}L${x + r} ${y + r}M${x + r} ${y - r}L${x - r} ${y + r}`;
    case 'blue':
      return `M${x - r * 1.3} ${y - r * 0.6}q${r * 1.3} ${r * 2.4} ${r * 2.6} 0`;
  }
}

/** A wavy line from `left` to `right`, as a finding has in the text. */
export function wavePath(left: number, right: number, y: number, height: number): string {
  const step = height * 1.6;
  const count = Math.max(2, Math.round((right - left) / step));
  const width = (right - left) / count;
  const arcs = Array.from({ length: count }, (_, i) => `q${width / 2} ${i % 2 === 0 ? -height : height} ${width} 0`);
  return `M${left} ${y}${arcs.join('')}`;
}

/** A bracket that opens upward; an end that goes on in another system has no hook. */
export function bracketPath(left: number, right: number, y: number, hook: number, open: { readonly left: boolean; readonly right: boolean }): string {
  return `${open.left ? `M${left} ${y}` : `M${left} ${y - hook}V${y}`}H${right}${open.right ? '' : `V${y - hook}`}`;
}
