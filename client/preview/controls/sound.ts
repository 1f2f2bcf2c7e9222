/** What is heard: levels, instruments, count-in and swing; and how a phrase is practised. */
import { PIANO_VOICES, type PianoVoice, type ViewOptions, type Voice } from '../../src/score/messages';
import { html } from '../dom';
import { checkbox, choice, flagged, folded, labelled, number } from './fields';
import type { Choices, Group } from './group';

export function createSound(choices: Choices): Group {
  const groups = [createLevels(choices), createPianos(choices), createTime(choices), createPractice(choices)];
  return {
    element: folded('Sound and practice', ...groups.map(({ element }) => element)),
    showOptions(options) {
      for (const group of groups) group.showOptions(options);
    },
  };
}

const VOICES: readonly { readonly voice: Voice; readonly words: string }[] = [
  { voice: 'line', words: 'Line' },
  { voice: 'chords', words: 'Chords' },
  { voice: 'bass', words: 'Bass' },
  { voice: 'click', words: 'Click' },
];

function createLevels({ options, choose, slide }: Choices): Group {
  const levels = VOICES.map(({ voice, words }) => {
    const slider = html('input', { type: 'range', min: 0, max: 100, step: 1, 'aria-label': `Level of the ${words.toLowerCase()}` });
    const moved = (): Partial<ViewOptions> => ({ levels: { ...options().levels, [voice]: Number(slider.value) / 100 } });
    slider.addEventListener('input', () => slide(moved()));
    slider.addEventListener('change', () => choose(moved()));
    return { voice, slider, row: html('label', {}, html('span', {}, words), slider) };
  });
  return {
    element: html('div', { class: 'group levels', role: 'group', 'aria-label': 'Levels' }, ...levels.map(({ row }) => row)),
    showOptions(shown) {
      for (const { voice, slider } of levels) slider.value = String(Math.round(shown.levels[voice] * 100));
    },
  };
}

const PIANO_WORDS: Readonly<Record<PianoVoice, string>> = { line: 'Piano for the line', chords: 'Piano for the chords' };

function createPianos({ choose }: Choices): Group {
  const pianos = PIANO_VOICES.map((voice) => ({
    voice,
    box: checkbox(() => choose({ piano: pianos.filter(({ box }) => box.checked).map((one) => one.voice) })),
  }));
  return {
    element: html('div', { class: 'group' }, ...pianos.map(({ voice, box }) => flagged(PIANO_WORDS[voice], box))),
    showOptions(shown) {
      for (const { voice, box } of pianos) box.checked = shown.piano.includes(voice);
    },
  };
}

const RATIOS: readonly { readonly ratio: number | null; readonly words: string }[] = [
  { ratio: null, words: 'as written, else by tempo' },
  { ratio: 1, words: 'straight' },
  { ratio: 1.25, words: '5:4, light' },
  { ratio: 1.5, words: '3:2, medium' },
  { ratio: 2, words: '2:1, triplets' },
  { ratio: 3, words: '3:1, hard' },
];

function createTime({ choose }: Choices): Group {
  const countIn = choice(
    [
      ['0', 'none'],
      ['1', '1 bar'],
      ['2', '2 bars'],
    ],
    (value) => choose({ countIn: Number(value) }),
  );
  const ratio = choice(
    RATIOS.map((one) => [String(one.ratio), one.words]),
    (value) => choose({ ratio: value === 'null' ? null : Number(value) }),
  );
  return {
    element: html('div', { class: 'group' }, labelled('Count-in', countIn), labelled('Swing', ratio)),
    showOptions(shown) {
      countIn.value = String(shown.countIn);
      ratio.value = String(shown.ratio);
    },
  };
}

function createPractice({ options, choose }: Choices): Group {
  const step = number(
    { min: 1, max: 40, name: 'Beats a minute added each time' },
    (value) => choose({ step: value }),
    () => options().step,
  );
  const rise = number(
    { min: 1, max: 200, name: 'Beats a minute added at most' },
    (value) => choose({ rise: value }),
    () => options().rise,
  );
  const order = choice<ViewOptions['order']>(
    [
      ['cycle', 'the cycle of fifths'],
      ['half-steps', 'half steps'],
    ],
    (value) => choose({ order: value }),
  );
  return {
    element: html('div', { class: 'group' }, labelled('Faster by', step), labelled('up to', rise, 'more'), labelled('Keys by', order)),
    showOptions(shown) {
      step.value = String(shown.step);
      rise.value = String(shown.rise);
      order.value = shown.order;
    },
  };
}
