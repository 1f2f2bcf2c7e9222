/** The rules of the writing: what one slice of text shows by itself. */
import type { RuleDoc } from '../rule';
import { badKey } from './bad-key';
import { badLevel } from './bad-level';
import { badMeter } from './bad-meter';
import { badName } from './bad-name';
import { badPart } from './bad-part';
import { badTempo } from './bad-tempo';
import { barRepeatNotAlone } from './bar-repeat-not-alone';
import { cellBarLine } from './cell-bar-line';
import { cellInCell } from './cell-in-cell';
import { compoundFigure } from './compound-figure';
import { extraWords } from './extra-words';
import { gluedComment } from './glued-comment';
import { hiddenByComment } from './hidden-by-comment';
import { joinedFigures } from './joined-figures';
import { keyWithoutMode } from './key-without-mode';
import { looseHyphen } from './loose-hyphen';
import { lowerCasePitch } from './lower-case-pitch';
import { markOnCell } from './mark-on-cell';
import { misplacedRow } from './misplaced-row';
import { missingClaim } from './missing-claim';
import { missingEquals } from './missing-equals';
import { missingName } from './missing-name';
import { missingText } from './missing-text';
import { missingWeight } from './missing-weight';
import { nestedDefinition } from './nested-definition';
import { octaveAndDirection } from './octave-and-direction';
import { repeatSign } from './repeat-sign';
import { repeatedProperty } from './repeated-property';
import { strayBarLine } from './stray-bar-line';
import { unclosedString } from './unclosed-string';
import { unknownKeyword } from './unknown-keyword';
import { unreadableWord } from './unreadable-word';
import { weightInChords } from './weight-in-chords';

export const SYNTAX_RULES: readonly RuleDoc[] = [
  badKey,
  badLevel,
  badMeter,
  badName,
  badPart,
  badTempo,
  barRepeatNotAlone,
  cellBarLine,
  cellInCell,
  compoundFigure,
  extraWords,
  gluedComment,
  hiddenByComment,
  joinedFigures,
  keyWithoutMode,
  looseHyphen,
  lowerCasePitch,
  markOnCell,
  misplacedRow,
  missingClaim,
  missingEquals,
  missingName,
  missingText,
  missingWeight,
  nestedDefinition,
  octaveAndDirection,
  repeatSign,
  repeatedProperty,
  strayBarLine,
  unclosedString,
  unknownKeyword,
  unreadableWord,
  weightInChords,
];
