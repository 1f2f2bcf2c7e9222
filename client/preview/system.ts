/** One system of the score on the page: its picture, with a place to point at for every note. */
import { drawSystem, type Place } from '../../server/src/picture/system';
import type { PictureOptions } from '../../server/src/picture/types';
import type { ScorePhrase } from '../src/score/messages';
import { svg } from './dom';

export interface SystemOptions extends Pick<PictureOptions, 'degrees' | 'devices' | 'names'> {
  /** Which of several it is, for its name: `system 2 of 4`; empty where there is one. */
  readonly place?: string;
}

export interface ShownSystem {
  readonly element: SVGSVGElement;
  /** The places of each note: one, and one more for each part it is tied to. */
  readonly places: ReadonlyMap<number, readonly SVGRectElement[]>;
}

/** Shows a system that was engraved. Throws where it is no picture of the engraving library. */
export function showSystem(engraved: string, phrase: ScorePhrase, options: SystemOptions): ShownSystem {
  const picture = drawSystem(engraved, phrase, options);
  const element = document.importNode(
    new DOMParser().parseFromString(picture.svg, 'image/svg+xml').documentElement,
    true,
  ) as unknown as SVGSVGElement;
  for (const part of element.children) part.setAttribute('aria-hidden', 'true');
  const places = new Map<number, SVGRectElement[]>();
  for (const place of picture.places) places.set(place.note, [...(places.get(place.note) ?? []), placeElement(place, phrase)]);
  // A listbox of notes: what can be pointed at can be reached with the arrow keys and is read aloud.
  const name = [`Notes of ${phrase.name || 'the phrase'}`, options.place ?? ''].filter((words) => words !== '').join(', ');
  element.prepend(svg('g', { role: 'listbox', 'aria-orientation': 'horizontal', 'aria-label': name }, ...[...places.values()].flat()));
  return { element, places };
}

function placeElement({ note, isFirst, x, y, width, height }: Place, { notes }: ScorePhrase): SVGRectElement {
  return svg('rect', {
    class: 'place',
    'data-note': note,
    x,
    y,
    width,
    height,
    rx: 60,
    'stroke-width': 26,
    role: isFirst ? 'option' : 'presentation',
    tabindex: isFirst ? -1 : null,
    'aria-label': isFirst ? (notes[note]?.label ?? '') : null,
    'aria-selected': isFirst ? 'false' : null,
  });
}
