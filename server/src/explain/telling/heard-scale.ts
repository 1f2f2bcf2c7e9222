/** The scale that a line over a dominant is heard in, where no run names it. */
import { ofReading } from '../../analysis/of-reading';
import type { Reading } from '../../analysis/types';
import { groupedBy } from '../../model/grouped';
import { chroma, soundClass } from '../../theory/pitch';
import { formatScale } from '../../theory/scale';
import type { ScaleName } from '../../theory/types';
import { scaleTitle, scaleTold, talkOf } from '../device-words';
import { wholeMinor } from '../minor-scales';
import { say, type Words } from '../say';
import { notesIn, type Stretch } from './stretch';
import { stretchesOf } from './stretches';

/** A scale over a dominant, by what tells it: half steps above the root. */
interface Heard {
  readonly name: ScaleName;
  isHeard(sounds: ReadonlySet<number>): boolean;
  /** One of these is in the stretch that is said to be in it. */
  readonly tells: readonly number[];
}

const HEARD: readonly Heard[] = [
  // b9, 3 and b13: harmonic minor of the chord to come.
  { name: 'mixolydian b9 b13', isHeard: (sounds) => [1, 4, 8].every((sound) => sounds.has(sound)), tells: [8] },
  { name: 'altered', isHeard: (sounds) => [1, 3, 6, 8].filter((sound) => sounds.has(sound)).length >= 3, tells: [1, 3, 6, 8] },
  // b9 and 13, and #9 or #11, without which they may be of another scale.
  {
    name: 'half-whole diminished',
    isHeard: (sounds) => [1, 4, 9].every((sound) => sounds.has(sound)) && [3, 6].some((sound) => sounds.has(sound)),
    tells: [1, 9],
  },
  {
    name: 'lydian dominant',
    isHeard: (sounds) => [4, 6, 10].every((sound) => sounds.has(sound)) && [2, 7, 9].some((sound) => sounds.has(sound)),
    tells: [2, 6, 9],
  },
];

/** `, in C harmonic minor`, `, in the F altered scale`, after the words of the stretch that makes the scale whole; once a phrase. */
export function inHeardScale(reading: Reading, stretch: Pick<Stretch, 'from' | 'to'>, words: Words): Words {
  if (stretch.to === reading.phrase.notes.length - 1) return words;
  const within = new Set(notesIn(stretch));
  const found = [...completed(reading)].find(([note, { telling }]) => within.has(note) && telling.some((one) => within.has(one)));
  return found === undefined ? words : say`${words}, in ${found[1].title}`;
}

/** Such scales by the first note with which each is whole: its title, and the notes that tell it. */
const completed = ofReading((reading): ReadonlyMap<number, { readonly title: string; readonly telling: readonly number[] }> => {
  const { phrase, notes, scales } = reading;
  const minor = wholeMinor(reading);
  const ofWholeLine = minor === null ? null : formatScale(minor);
  const titles = new Map<string, { readonly note: number; readonly telling: readonly number[] }>();
  for (const [span, over] of groupedBy(notes, ({ placement }) => (placement === null ? [] : [placement.span]))) {
    const [scale, chord] = [scales[span], phrase.spans[span]!.chord];
    const heard = HEARD.find(({ name }) => name === scale?.name);
    if (heard === undefined || scale == null || chord === null || isInRun(reading, span)) continue;
    const above = over.map(({ note }) => ({ note, sound: soundClass(chroma(phrase.notes[note]!.pitch) - chroma(chord.root)) }));
    if (!over.every(({ note }) => scale.sounds.has(chroma(phrase.notes[note]!.pitch)))) continue;
    const whole = above.find((_, i) => heard.isHeard(new Set(above.slice(0, i + 1).map(({ sound }) => sound))));
    const title = scale.name === 'altered' || scale.name === 'half-whole diminished' ? `the ${scaleTitle(scale)} scale` : scaleTitle(scale);
    // What the whole line is in was told first.
    if (title === ofWholeLine) continue;
    if (whole !== undefined && !titles.has(title))
      titles.set(title, { note: whole.note, telling: above.filter(({ sound }) => heard.tells.includes(sound)).map(({ note }) => note) });
  }
  return new Map([...titles].map(([title, { note, telling }]) => [note, { title, telling }]));
});

/** Whether a run over a chord is told, and names its scale. */
function isInRun(reading: Reading, span: number): boolean {
  return stretchesOf(reading).some(
    ({ device }) =>
      device?.kind === 'scale-run' && reading.notes[device.from]!.placement?.span === span && scaleTold(talkOf(device, reading)) !== null,
  );
}
