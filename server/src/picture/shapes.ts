/** The shapes that tell roles and findings apart without colour, and the brackets of devices, as SVG path data. */
import type { Role } from '../analysis/types';
import type { PictureNote } from './types';

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

/** The line under a note with a finding, as it has one in the text: a zigzag for an error, a wave for a warning, dashes for what is only told. */
export function findingPath(severity: NonNullable<PictureNote['finding']>, left: number, right: number, y: number, height: number): string {
  const count = Math.max(2, Math.round((right - left) / (height * 1.6)));
  const width = (right - left) / count;
  const steps = Array.from({ length: count }, (_, i) => {
    const rise = i % 2 === 0 ? -height : height;
    if (severity === 'error') return `l${width / 2} ${rise / 2}l${width / 2} ${-rise / 2}`;
    return severity === 'warning' ? `q${width / 2} ${rise} ${width} 0` : `h${width / 2}m${width / 2} 0`;
  });
  return `M${left} ${y}${steps.join('')}`;
}

/** An end of a bracket; its hook is so high, 0 where the bracket goes on elsewhere. */
export interface BracketEnd {
  readonly x: number;
  readonly hook: number;
}

/** A bracket that opens upward. */
export function bracketPath(left: BracketEnd, right: BracketEnd, y: number): string {
  const begin = left.hook === 0 ? `M${left.x} ${y}` : `M${left.x} ${y - left.hook}V${y}`;
  return `${begin}H${right.x}${right.hook === 0 ? '' : `V${y - right.hook}`}`;
}
