/** What a user may set, as plain data; `settings.ts` of the protocol and the command line fill it. */
import { DEFAULT_THEORY } from '../analysis/read';
import type { TheoryOptions } from '../analysis/types';
import type { Length } from '../explain/walkthrough';

export type DegreeHints = 'off' | 'clashes' | 'all';

export interface Settings {
  readonly theory: TheoryOptions;
  readonly degreeHints: DegreeHints;
  /** A word for each device at its target (or its first note). */
  readonly deviceHints: boolean;
  /** How much a walk-through tells. */
  readonly walkthrough: Length;
  /** What can be done with a phrase, and a line about it, above its title. */
  readonly codeLenses: boolean;
}

export const DEFAULT_SETTINGS: Settings = {
  theory: DEFAULT_THEORY,
  degreeHints: 'all',
  deviceHints: false,
  walkthrough: 'bars',
  codeLenses: true,
};

/** The part of an editor's settings that decides what notes are. */
export function theoryOf(raw: unknown): TheoryOptions {
  return readSettings(raw).theory;
}

/** Reads settings as an editor sends them; what is missing or unknown keeps its default. */
export function readSettings(raw: unknown): Settings {
  const source = asRecord(raw);
  const theory = asRecord(source['theory']);
  const hints = asRecord(source['inlayHints'])['degrees'];
  const flag = (name: Exclude<keyof TheoryOptions, 'profile' | 'numbers'>): boolean =>
    typeof theory[name] === 'boolean' ? theory[name] : DEFAULT_THEORY[name];
  return {
    theory: {
      profile: source['profile'] === 'harmonic' ? 'harmonic' : 'melodic',
      natural9OfHalfDiminished: flag('natural9OfHalfDiminished'),
      flat6OfTonicMinor: flag('flat6OfTonicMinor'),
      thirteenthOfLydianAugmented: flag('thirteenthOfLydianAugmented'),
      thirdOfSuspended: flag('thirdOfSuspended'),
      numbers: source['degreeNumbers'] === 'scale' ? 'scale' : 'tensions',
    },
    degreeHints: hints === 'off' || hints === 'clashes' ? hints : 'all',
    deviceHints: asRecord(source['inlayHints'])['devices'] === true,
    walkthrough: asRecord(source['walkthrough'])['length'] === 'notes' ? 'notes' : 'bars',
    codeLenses: source['codeLenses'] !== false,
  };
}

function asRecord(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}
