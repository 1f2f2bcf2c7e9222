/** Where a tip stands: on what has been played already, never on what comes next. */

export interface Edges {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Pixels. */
const APART = 4;

/**
 * The left and top of a tip for a note whose place is as high as its system: above the system, or left of the note; where there is room for
 * neither, at the top of the view.
 */
export function tipPlace(note: Edges, tip: Size, view: Size): { readonly left: number; readonly top: number } {
  const left = Math.max(APART, Math.min(note.left, view.width - tip.width - APART));
  if (note.top - APART - tip.height >= 0) return { left, top: Math.min(note.top - APART - tip.height, view.height - tip.height) };
  if (note.left - APART - tip.width >= 0)
    return { left: note.left - APART - tip.width, top: Math.max(0, Math.min(note.bottom, view.height) - tip.height) };
  return { left, top: 0 };
}
