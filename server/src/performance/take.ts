/** A take: a phrase as it is to sound, in seconds, once or as often as it is practised. */
import type { Reading } from '../analysis/types';
import { guarded } from '../model/faults';
import { bassSounds } from './bass';
import { clickSounds, countInOf } from './click';
import { lineOf, type Playing } from './line';
import { passesOf } from './passes';
import { scoreOf, type Score } from './score';
import { clockOf } from './swing';
import type { CursorStep, Pass, Sound, Take, TakeOptions, Voice } from './types';
import { chordSounds } from './voicings';

/** Never throws. An accompanying voice that breaks off is silent. The same phrase and options give the same take; a phrase without a bar gives one without a pass. */
export function takeOf(reading: Reading, options: TakeOptions): Take {
  const score = scoreOf(reading.phrase, options.stretch);
  return score === null ? { sounds: [], cursor: [], passes: [], countIn: 0, length: 0 } : played(reading, score, options);
}

function played(reading: Reading, score: Score, options: TakeOptions): Take {
  const plans = passesOf(reading, score, options);
  const [first] = plans;
  const countIn = countInOf(score, options.countIn, clockOf(score.quarters, first!.tempo, first!.ratio), first!.tempo);
  const sounds: Sound[] = [...countIn.sounds];
  const cursor: CursorStep[] = [];
  const passes: Pass[] = [];
  let at = countIn.seconds;
  plans.forEach((plan, pass) => {
    const clock = clockOf(score.quarters, plan.tempo, plan.ratio);
    const [begin, start] = [at, clock(score.from)];
    const playing: Playing = { pass, shift: plan.shift, ratio: plan.ratio, seconds: (time) => begin + (clock(time) - start) };
    const line = lineOf(score, playing);
    const voice = (of: string, sound: () => readonly Sound[]): readonly Sound[] => guarded(`the sound of the ${of}`, [], sound);
    sounds.push(
      ...line.sounds,
      ...voice('chords', () => chordSounds(score, playing)),
      ...voice('bass', () => bassSounds(score, playing)),
      ...voice('click', () => clickSounds(score, playing.seconds)),
    );
    cursor.push(...line.cursor);
    at = playing.seconds(score.to);
    passes.push({ at: begin, until: at, ...plan });
  });
  return { sounds: sounds.sort(inOrder), cursor, passes, countIn: countIn.seconds, length: at };
}

const ORDER: readonly Voice[] = ['line', 'chords', 'bass', 'click'];

function inOrder(a: Sound, b: Sound): number {
  return a.at - b.at || ORDER.indexOf(a.voice) - ORDER.indexOf(b.voice);
}
