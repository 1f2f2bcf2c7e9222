/** Plain controls of the page, so keys and screen readers know them. */
import { html } from '../dom';
import { within } from '../numbers';

export function choice<T extends string>(
  entries: readonly (readonly [T, string])[],
  onChange: (value: T) => void = () => undefined,
): HTMLSelectElement {
  const select = html('select', {}, ...entries.map(([value, words]) => html('option', { value }, words)));
  select.addEventListener('change', () => onChange(select.value as T));
  return select;
}

export function checkbox(onChange: (checked: boolean) => void): HTMLInputElement {
  const box = html('input', { type: 'checkbox' });
  box.addEventListener('change', () => onChange(box.checked));
  return box;
}

/** A number field; what it shows is what is used. */
export function number(
  { min, max, name }: { readonly min: number; readonly max: number; readonly name: string },
  onChange: (value: number) => void,
  former: () => number,
): HTMLInputElement {
  const input = html('input', { type: 'number', min, max, step: 1, 'aria-label': name });
  input.addEventListener('change', () => {
    const value = within(input.value, min, max) ?? former();
    input.value = String(value);
    onChange(value);
  });
  return input;
}

export function labelled(words: string, control: HTMLElement, after = ''): HTMLLabelElement {
  return html('label', {}, html('span', {}, words), control, after);
}

export function flagged(words: string, box: HTMLInputElement): HTMLLabelElement {
  return html('label', { class: 'flag' }, box, words);
}

/** Controls that are folded away until they are asked for. */
export function folded(words: string, ...children: readonly HTMLElement[]): HTMLElement {
  return html('details', { class: 'more' }, html('summary', {}, words), ...children);
}
