/** The row of boxes under a system: one a note, for its degree. */
import { measure } from './measure';
import { xml, type Xml } from './xml';

/** What belongs in a box; a note that is held into another chord has one more there, in dashes. */
export interface Answer {
  readonly x: number;
  readonly figure: string;
  readonly isHeld: boolean;
}

/** In units of the picture. */
export const BOX = { widest: 480, narrowest: 90, gap: 60, top: 110, height: 520, line: 20, size: 330, inside: 30 } as const;
/** Where letters stand in parts of their size, to be in the middle of a box. */
const MIDDLE = 0.36;

/** The boxes under the lowest ink; all of one width, so that they tell nothing of what belongs in them. */
export function answerBoxes(answers: readonly Answer[], boxes: 'blank' | 'filled', top: number): Xml[] {
  const apart = answers.slice(1).map(({ x }, i) => x - answers[i]!.x);
  const width = Math.max(BOX.narrowest, Math.min(BOX.widest, ...apart.map((distance) => distance - BOX.gap)));
  const widest = Math.max(0, ...answers.map(({ figure }) => measure(figure, 'bold').width));
  const size = Math.min(BOX.size, (width - 2 * BOX.inside) / widest);
  return answers.map(({ x, figure, isHeld }) =>
    xml(
      'g',
      { class: 'answer' },
      xml('rect', {
        x: x - width / 2,
        y: top + BOX.top,
        width,
        height: BOX.height,
        fill: 'none',
        stroke: 'currentColor',
        'stroke-width': BOX.line,
        'stroke-dasharray': isHeld ? '60 40' : null,
      }),
      ...(boxes === 'filled'
        ? [
            xml(
              'text',
              {
                class: 'figure',
                x: x - (size * measure(figure, 'bold').width) / 2,
                y: top + BOX.top + BOX.height / 2 + size * MIDDLE,
                'font-size': size,
                'font-weight': 700,
              },
              figure,
            ),
          ]
        : []),
    ),
  );
}
