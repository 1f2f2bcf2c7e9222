/** The controls that are always at hand: what is played, how, how fast, how often, and what is said of it. */
import type { Practice, What } from '../../src/score/messages';
import { html, setText } from '../dom';
import type { Repeat } from '../playing/state';
import { checkbox, choice, flagged } from './fields';
import type { Choices, Group } from './group';
import { loopShown } from './shown';
import { createTempoField, type TempoField } from './tempo';

export interface Bar extends Group {
  what(): What;
  practice(): Practice['kind'];
  choose(what: What, practice: Practice['kind']): void;
  readonly showTempo: TempoField['show'];
  showPlaying(repeat: Repeat | null): void;
  showSounding(words: string): void;
  say(words: string): void;
}

export interface BarEvents {
  onPlay(): void;
  onTempo(tempo: number | null): void;
}

export function createBar({ options, choose }: Choices, { onPlay, onTempo }: BarEvents): Bar {
  const sounds = html('span', { class: 'sounds' });
  const said = html('span', { role: 'status' });
  const say = (words: string): void => setText(said, words);
  const play = html('button', { type: 'button', class: 'play' }, 'Play');
  play.addEventListener('click', () => onPlay());
  const what = choice<What>([
    ['phrase', 'phrase'],
    ['selection', 'selection'],
    ['bar', 'bar'],
  ]);
  const practice = choice<Practice['kind']>([
    ['plain', 'as written'],
    ['faster', 'faster each time'],
    ['keys', 'twelve keys'],
  ]);
  what.setAttribute('aria-label', 'What is played');
  practice.setAttribute('aria-label', 'How it is played');
  const tempo = createTempoField(onTempo, say);
  const loop = checkbox((checked) => choose({ loop: checked }));
  const lineMuted = checkbox((checked) => choose({ lineMuted: checked }));
  return {
    element: html(
      'div',
      { class: 'bar', role: 'group', 'aria-label': 'Playing' },
      play,
      what,
      practice,
      tempo.element,
      flagged('Loop', loop),
      flagged('Mute the line', lineMuted),
      html('p', { class: 'said' }, sounds, said),
    ),
    showOptions(shown) {
      loop.checked = shown.loop || loop.disabled;
      lineMuted.checked = shown.lineMuted;
    },
    what: () => what.value as What,
    practice: () => practice.value as Practice['kind'],
    choose(chosen, how) {
      what.value = chosen;
      practice.value = how;
    },
    showTempo: tempo.show,
    showPlaying(repeat) {
      setText(play, repeat === null ? 'Play' : 'Stop');
      const { isChecked, isDisabled } = loopShown(repeat, options().loop);
      loop.checked = isChecked;
      loop.disabled = isDisabled;
    },
    showSounding: (words) => setText(sounds, words),
    say,
  };
}
