/** Every command and option of the command line is explained by its help, and refused where it does nothing. */
import { describe, expect, test } from 'vitest';
import { COMMANDS, OPTIONS, readArguments, refuseStrayOptions, type Command } from '../../../server/src/cli-arguments';
import { HELP } from '../../../server/src/command-line';

test('the help lists the commands there are', () => {
  const listed = HELP.split('\nCommands\n')[1]!.split('\n\n')[0]!;
  expect([...listed.matchAll(/^ {2}([a-z]+) /gm)].map(([, name]) => name).sort()).toEqual([...COMMANDS].sort());
});

test('the help explains the options there are, and no other', () => {
  const explained = new Set([...HELP.matchAll(/--([a-z]+)/g)].map(([, name]) => name));
  expect([...explained].sort()).toEqual(Object.keys(OPTIONS).sort());
});

describe.each(Object.entries(OPTIONS))('--%s', (name, { type, of }) => {
  const { values } = readArguments(type === 'string' ? [`--${name}`, 'x'] : [`--${name}`]);
  const isTaken = (command: Command): boolean => of.some((one) => one === command);

  test.each(COMMANDS.filter(isTaken))('is taken by %s', (command) => {
    expect(() => refuseStrayOptions(command, values)).not.toThrow();
  });
  test.each(COMMANDS.filter((command) => !isTaken(command)))('is refused by %s, which would do nothing with it', (command) => {
    expect(() => refuseStrayOptions(command, values)).toThrow(`--${name} belongs to ${of.join(' or ')}, not to ${command}.`);
  });
});
