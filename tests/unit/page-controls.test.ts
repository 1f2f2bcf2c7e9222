/** What the controls above the score show of what plays. */
import { describe, expect, test } from 'vitest';
import { loopShown, tempoShown } from '../../client/preview/controls/shown';

describe('the box of the loop', () => {
  test.each([
    ['nothing plays, the loop is not chosen', null, false, { isChecked: false, isDisabled: false }],
    ['nothing plays, the loop is chosen', null, true, { isChecked: true, isDisabled: false }],
    ['it plays once', 'none', false, { isChecked: false, isDisabled: false }],
    ['it goes round because the loop is chosen', 'all', true, { isChecked: true, isDisabled: false }],
    ['it goes round by itself: a bar, or keys', 'all', false, { isChecked: true, isDisabled: true }],
    ['the last pass goes round by itself', 'last', false, { isChecked: true, isDisabled: true }],
  ] as const)('%s', (_, repeat, isChosen, shown) => {
    expect(loopShown(repeat, isChosen)).toEqual(shown);
  });
});

describe('the field of the tempo', () => {
  test('is the written tempo until another is played; then there is a way back', () => {
    expect(tempoShown(120, null)).toEqual({ tempo: 120, isWritten: true });
    expect(tempoShown(120, 120)).toEqual({ tempo: 120, isWritten: true });
    expect(tempoShown(120, 96)).toEqual({ tempo: 96, isWritten: false });
  });
});
