/** What is shown of the score, and what its shapes say. */
import type { ViewOptions } from '../../src/score/messages';
import { html } from '../dom';
import { checkbox, choice, flagged, folded, labelled } from './fields';
import type { Choices, Group } from './group';
import { legend } from './legend';

const SIZES: readonly { readonly size: number; readonly words: string }[] = [
  { size: 0.8, words: 'small' },
  { size: 1, words: 'usual' },
  { size: 1.4, words: 'large' },
  { size: 2, words: 'for a wall' },
];

export function createView({ choose }: Choices): Group {
  const scope = choice<ViewOptions['scope']>(
    [
      ['phrase', 'the phrase'],
      ['lesson', 'the whole lesson'],
    ],
    (value) => choose({ scope: value }),
  );
  const pitch = choice<ViewOptions['pitch']>(
    [
      ['written', 'as the part reads it'],
      ['concert', 'at concert pitch'],
    ],
    (value) => choose({ pitch: value }),
  );
  const size = choice(
    SIZES.map((one) => [String(one.size), one.words]),
    (value) => choose({ size: Number(value) }),
  );
  const degrees = checkbox((checked) => choose({ degrees: checked }));
  const devices = checkbox((checked) => choose({ devices: checked }));
  const walkthrough = checkbox((checked) => choose({ walkthrough: checked }));
  const controls = html(
    'div',
    { class: 'group' },
    labelled('Show', scope),
    labelled('Pitches', pitch),
    labelled('Size', size),
    flagged('Degrees', degrees),
    flagged('Devices', devices),
    flagged('Walk-through', walkthrough),
  );
  return {
    element: folded('What is shown', controls, legend()),
    showOptions(shown) {
      scope.value = shown.scope;
      pitch.value = shown.pitch;
      size.value = String(shown.size);
      degrees.checked = shown.degrees;
      devices.checked = shown.devices;
      walkthrough.checked = shown.walkthrough;
    },
  };
}
