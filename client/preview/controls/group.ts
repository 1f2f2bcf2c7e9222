/** What the groups of controls share: the options, and what is done with one that is chosen. */
import type { ViewOptions } from '../../src/score/messages';

export interface Choices {
  /** The options as they were last chosen, here or elsewhere. */
  options(): ViewOptions;
  choose(changed: Partial<ViewOptions>): void;
  /** One of many values that a slider runs through. */
  slide(changed: Partial<ViewOptions>): void;
}

export interface Group {
  readonly element: HTMLElement;
  showOptions(options: ViewOptions): void;
}
