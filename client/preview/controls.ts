/** The controls above the score: what is played, how fast, how often; what is heard and what is shown. Plain controls of the page, so keys and screen readers know them. */
import { ROLES, rolePath } from '../../server/src/picture/shapes';
import { PIANO_VOICES, type PianoVoice, type Practice, type ViewOptions, type Voice, type What } from '../src/score/messages';
import { html, setText, svg } from './dom';
import { TEMPOS, typedTempo, within } from './numbers';
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

const VOICES: readonly { readonly voice: Voice; readonly words: string }[] = [
  { voice: 'line', words: 'Line' },
  { voice: 'chords', words: 'Chords' },
  { voice: 'bass', words: 'Bass' },
  { voice: 'click', words: 'Click' },
];

const PIANO_WORDS: Readonly<Record<PianoVoice, string>> = { line: 'Piano for the line', chords: 'Piano for the chords' };

const RATIOS: readonly { readonly ratio: number | null; readonly words: string }[] = [
  { ratio: null, words: 'as written, else by tempo' },
  { ratio: 1, words: 'straight' },
  { ratio: 1.25, words: '5:4, light' },
  { ratio: 1.5, words: '3:2, medium' },
  { ratio: 2, words: '2:1, triplets' },
  { ratio: 3, words: '3:1, hard' },
];

const SIZES: readonly { readonly size: number; readonly words: string }[] = [
  { size: 0.8, words: 'small' },
  { size: 1, words: 'usual' },
  { size: 1.4, words: 'large' },
  { size: 2, words: 'for a wall' },
];

/** Fills the element with controls; `options` are those they show at first. */
export function createControls(container: HTMLElement, options: ViewOptions, events: ControlEvents): Controls {
  let current = options;
  const change = (changed: Partial<ViewOptions>, isFinal = true): void => {
    current = { ...current, ...changed };
    events.onOptions(current, isFinal);
  };

  const play = html('button', { type: 'button', class: 'play' }, 'Play');
  play.addEventListener('click', () => events.onPlay());
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
  const loop = checkbox((checked) => change({ loop: checked }));
  const tempo = html('input', { type: 'number', ...TEMPOS, step: 1, 'aria-label': 'Tempo in beats a minute' });
  tempo.addEventListener('change', () => {
    const typed = typedTempo(tempo.value);
    events.onTempo(typed.tempo);
    if (typed.told !== '') setText(said, typed.told);
  });
  const asWritten = html('button', { type: 'button', class: 'back', 'aria-label': 'Tempo as written', title: 'Tempo as written' });
  asWritten.addEventListener('click', () => events.onTempo(null));

  const scope = choice<ViewOptions['scope']>(
    [
      ['phrase', 'the phrase'],
      ['lesson', 'the whole lesson'],
    ],
    (value) => change({ scope: value }),
  );
  const pitch = choice<ViewOptions['pitch']>(
    [
      ['written', 'as the part reads it'],
      ['concert', 'at concert pitch'],
    ],
    (value) => change({ pitch: value }),
  );
  const size = choice(
    SIZES.map((one) => [String(one.size), one.words]),
    (value) => change({ size: Number(value) }),
  );
  const degrees = checkbox((checked) => change({ degrees: checked }));
  const devices = checkbox((checked) => change({ devices: checked }));
  const walkthrough = checkbox((checked) => change({ walkthrough: checked }));

  const levels = VOICES.map(({ voice, words }) => {
    const slider = html('input', { type: 'range', min: 0, max: 100, step: 1, 'aria-label': `Level of the ${words.toLowerCase()}` });
    const moved = (isFinal: boolean): void => change({ levels: { ...current.levels, [voice]: Number(slider.value) / 100 } }, isFinal);
    slider.addEventListener('input', () => moved(false));
    slider.addEventListener('change', () => moved(true));
    return { voice, slider, row: html('label', {}, html('span', {}, words), slider) };
  });
  const pianos = PIANO_VOICES.map((voice) => ({
    voice,
    box: checkbox(() => change({ piano: pianos.filter(({ box }) => box.checked).map((one) => one.voice) })),
  }));
  const lineMuted = checkbox((checked) => change({ lineMuted: checked }));
  const countIn = choice(
    [
      ['0', 'none'],
      ['1', '1 bar'],
      ['2', '2 bars'],
    ],
    (value) => change({ countIn: Number(value) }),
  );
  const ratio = choice(
    RATIOS.map((one) => [String(one.ratio), one.words]),
    (value) => change({ ratio: value === 'null' ? null : Number(value) }),
  );
  const step = number(
    { min: 1, max: 40, name: 'Beats a minute added each time' },
    (value) => change({ step: value }),
    () => current.step,
  );
  const rise = number(
    { min: 1, max: 200, name: 'Beats a minute added at most' },
    (value) => change({ rise: value }),
    () => current.rise,
  );
  const order = choice<ViewOptions['order']>(
    [
      ['cycle', 'the cycle of fifths'],
      ['half-steps', 'half steps'],
    ],
    (value) => change({ order: value }),
  );

  const sounds = html('span', { class: 'sounds' });
  const said = html('span', { role: 'status' });
  container.replaceChildren(
    html(
      'div',
      { class: 'bar', role: 'group', 'aria-label': 'Playing' },
      play,
      what,
      practice,
      html('span', { class: 'tempo' }, labelled('Tempo', tempo), asWritten),
      flagged('Loop', loop),
      flagged('Mute the line', lineMuted),
      html('p', { class: 'said' }, sounds, said),
    ),
    html(
      'details',
      { class: 'more' },
      html('summary', {}, 'Sound and practice'),
      html('div', { class: 'group levels', role: 'group', 'aria-label': 'Levels' }, ...levels.map(({ row }) => row)),
      html('div', { class: 'group' }, ...pianos.map(({ voice, box }) => flagged(PIANO_WORDS[voice], box))),
      html('div', { class: 'group' }, labelled('Count-in', countIn), labelled('Swing', ratio)),
      html('div', { class: 'group' }, labelled('Faster by', step), labelled('up to', rise, 'more'), labelled('Keys by', order)),
    ),
    html(
      'details',
      { class: 'more' },
      html('summary', {}, 'What is shown'),
      html(
        'div',
        { class: 'group' },
        labelled('Show', scope),
        labelled('Pitches', pitch),
        labelled('Size', size),
        flagged('Degrees', degrees),
        flagged('Devices', devices),
        flagged('Walk-through', walkthrough),
      ),
      legend(),
    ),
  );

  const showOptions = (shown: ViewOptions): void => {
    current = shown;
    scope.value = shown.scope;
    pitch.value = shown.pitch;
    order.value = shown.order;
    countIn.value = String(shown.countIn);
    ratio.value = String(shown.ratio);
    size.value = String(shown.size);
    step.value = String(shown.step);
    rise.value = String(shown.rise);
    loop.checked = shown.loop || loop.disabled;
    degrees.checked = shown.degrees;
    devices.checked = shown.devices;
    walkthrough.checked = shown.walkthrough;
    lineMuted.checked = shown.lineMuted;
    for (const { voice, box } of pianos) box.checked = shown.piano.includes(voice);
    for (const { voice, slider } of levels) slider.value = String(Math.round(shown.levels[voice] * 100));
  };
  showOptions(options);
  return {
    what: () => what.value as What,
    practice: () => practice.value as Practice['kind'],
    choose(chosen, how) {
      what.value = chosen;
      practice.value = how;
    },
    showOptions,
    showTempo(written, played) {
      tempo.value = String(played ?? written);
      setText(asWritten, `↺ ${written}`);
      // It keeps its room, so that nothing moves when it comes.
      asWritten.classList.toggle('idle', played === null || played === written);
      asWritten.disabled = played === null || played === written;
    },
    showPlaying(repeat) {
      setText(play, repeat === null ? 'Play' : 'Stop');
      // What goes round by itself shows it; there the box has nothing to choose.
      const goesRound = repeat !== null && repeat !== 'none';
      loop.checked = goesRound || current.loop;
      loop.disabled = goesRound && !current.loop;
    },
    showSounding: (words) => setText(sounds, words),
    say: (text) => setText(said, text),
  };
}

function choice<T extends string>(
  entries: readonly (readonly [T, string])[],
  onChange: (value: T) => void = () => undefined,
): HTMLSelectElement {
  const select = html('select', {}, ...entries.map(([value, words]) => html('option', { value }, words)));
  select.addEventListener('change', () => onChange(select.value as T));
  return select;
}

function checkbox(onChange: (checked: boolean) => void): HTMLInputElement {
  const box = html('input', { type: 'checkbox' });
  box.addEventListener('change', () => onChange(box.checked));
  return box;
}

/** A number field; what it shows is what is used. */
function number(
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

/** What the shapes under the notes say. */
function legend(): HTMLElement {
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

function labelled(words: string, control: HTMLElement, after = ''): HTMLLabelElement {
  return html('label', {}, html('span', {}, words), control, after);
}

function flagged(words: string, box: HTMLInputElement): HTMLLabelElement {
  return html('label', { class: 'flag' }, box, words);
}
