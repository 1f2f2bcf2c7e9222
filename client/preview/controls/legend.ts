/** What the shapes under the notes say. */
import { ROLES, rolePath } from '../../../server/src/picture/shapes';
import { html, svg } from '../dom';

export function legend(): HTMLElement {
  const items = ROLES.map(({ role, words, shape }) => {
    const mark = svg(
      'svg',
      { class: 'below', viewBox: '-120 -120 240 240', role: 'img', 'aria-label': shape },
      svg('path', { class: `role ${role}`, d: rolePath(role, 0, 0, 130), 'stroke-width': 32 }),
    );
    return html('li', {}, mark, words);
  });
  return html('ul', { class: 'legend', 'aria-label': 'What the shapes under the notes say' }, ...items);
}
