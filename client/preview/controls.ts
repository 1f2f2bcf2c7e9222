/** The controls above the score: what is played, how fast, how often; what is heard and what is shown. */
import type { Practice, ViewOptions, What } from '../src/score/messages';
import { createBar } from './controls/bar';
import type { Choices } from './controls/group';
import { createSound } from './controls/sound';
import { createView } from './controls/view';
import type { Repeat } from './player';

export interface ControlEvents {
  onPlay(): void;
  /** `isFinal`: not one of many values that a slider runs through. */
  onOptions(options: ViewOptions, isFinal: boolean): void;
  /** The tempo was set, in beats a minute; null: as written. */
  onTempo(tempo: number | null): void;
}

export interface Controls {
  readonly what: () => What;
  readonly practice: () => Practice['kind'];
  choose(what: What, practice: Practice['kind']): void;
  showOptions(options: ViewOptions): void;
  /** Beats a minute as written, and as played where that was changed. */
  showTempo(written: number, played: number | null): void;
  /** How often it plays; null: it does not. */
  showPlaying(repeat: Repeat | null): void;
  /** The phrase and the bar that sound; empty for nothing. It changes at every bar, so it is not read aloud. */
  showSounding(words: string): void;
  /** A line on what sounds now, read aloud; empty for nothing. */
  say(text: string): void;
}

/** Fills the element with controls; `options` are those they show at first. */
export function createControls(container: HTMLElement, options: ViewOptions, events: ControlEvents): Controls {
  let current = options;
  const take = (changed: Partial<ViewOptions>): ViewOptions => {
    current = { ...current, ...changed };
    return current;
  };
  const choices: Choices = {
    options: () => current,
    choose: (changed) => events.onOptions(take(changed), true),
    slide: (changed) => events.onOptions(take(changed), false),
  };
  const bar = createBar(choices, events);
  const groups = [bar, createSound(choices), createView(choices)];
  container.replaceChildren(...groups.map(({ element }) => element));

  const showOptions = (shown: ViewOptions): void => {
    current = shown;
    for (const group of groups) group.showOptions(shown);
  };
  showOptions(options);
  const { what, practice, choose, showTempo, showPlaying, showSounding, say } = bar;
  return { what, practice, choose, showOptions, showTempo, showPlaying, showSounding, say };
}
