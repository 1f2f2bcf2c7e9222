/** The rules of time and harmony: what shows when a phrase is laid out. */
import type { RuleDoc } from '../rule';
import { alteredExtension } from './altered-extension';
import { barLength } from './bar-length';
import { changeOffTheBeat } from './change-off-the-beat';
import { chordShares } from './chord-shares';
import { duplicateDefinition } from './duplicate-definition';
import { emptyChordBar } from './empty-chord-bar';
import { figureNotInChord } from './figure-not-in-chord';
import { figureWithoutChord } from './figure-without-chord';
import { figureWithoutNote } from './figure-without-note';
import { fileTooLong } from './file-too-long';
import { holdWithoutNote } from './hold-without-note';
import { lineLongerThanChords } from './line-longer-than-chords';
import { lineShorterThanChords } from './line-shorter-than-chords';
import { naturalForMissing } from './natural-for-missing';
import { numeralInMinor } from './numeral-in-minor';
import { numeralWithoutKey } from './numeral-without-key';
import { pickupFillsBar } from './pickup-fills-bar';
import { repeatOfNothing } from './repeat-of-nothing';
import { secondLesson } from './second-lesson';
import { undefinedName } from './undefined-name';
import { unknownChord } from './unknown-chord';
import { unknownPart } from './unknown-part';
import { unknownScale } from './unknown-scale';

export const MODEL_RULES: readonly RuleDoc[] = [
  alteredExtension,
  barLength,
  changeOffTheBeat,
  chordShares,
  duplicateDefinition,
  emptyChordBar,
  figureNotInChord,
  figureWithoutChord,
  figureWithoutNote,
  fileTooLong,
  holdWithoutNote,
  lineLongerThanChords,
  lineShorterThanChords,
  naturalForMissing,
  numeralInMinor,
  numeralWithoutKey,
  pickupFillsBar,
  repeatOfNothing,
  secondLesson,
  undefinedName,
  unknownChord,
  unknownPart,
  unknownScale,
];
