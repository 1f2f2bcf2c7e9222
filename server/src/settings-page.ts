/** The page of the editor's settings, commands, keys and colours, made from the extension's manifest. */

import { tableCell } from './rules/manual';

/** What of `package.json` the page tells. */
export interface Manifest {
  readonly contributes: {
    readonly configuration: { readonly properties: Readonly<Record<string, Setting>> };
    readonly commands: readonly { readonly command: string; readonly title: string; readonly category?: string }[];
    readonly keybindings: readonly { readonly command: string; readonly key: string; readonly mac?: string }[];
    readonly colors: readonly { readonly id: string; readonly description: string }[];
  };
}

interface Setting {
  readonly type: string;
  readonly default: unknown;
  readonly enum?: readonly string[];
  readonly enumDescriptions?: readonly string[];
  readonly markdownEnumDescriptions?: readonly string[];
  readonly description?: string;
  readonly markdownDescription?: string;
}

/** What a command does, where its title leaves something to say. */
const DOES: Readonly<Record<string, string>> = {
  newLesson: 'In the empty file that is open, else in a new one: a lesson that can be heard at once, to write over.',
  openWalkthrough: 'Goes to the walk-through of the phrase at the cursor, which follows your edits.',
  openWalkthroughText: 'The same as a document beside the text, to search and to copy from.',
  transposePhrase: 'Asks for the key; notes, chords, key and claims move together.',
  copyToTwelveKeys: 'Round the cycle of fifths, or up by half steps.',
  writeSteps: 'Each step as a phrase of its own before the line.',
  varyPhrase: 'Skeleton, major or minor, long or short ii–V–I, octave, displacement, bars.',
  rewritePhrase: 'Spelling, degrees or pitches, numerals or symbols, named changes, systems, the whole file.',
  moreActions:
    'Every form of every code action there, under headings; the score, if it is open, shows the one you stand on before you take it.',
  showScore: 'Beside the text; it follows the cursor and your edits.',
  playPhrase: 'The phrase at the cursor.',
  playSelection: 'The notes that are selected in the text.',
  loopBar: 'The bar at the cursor.',
  practiseFaster: 'From the tempo shown, by a step a round.',
  practiseKeys: 'The key as written first, then round the cycle of fifths or up by half steps.',
  muteLine: 'Chords, bass and click go on: play along.',
  handOut:
    'The lesson, the phrase at the cursor, or files and folders of the explorer as pages to print: for whom, in which keys, for which parts, as PDF or HTML. What you chose last is kept.',
  previewHandout: 'Beside the text, as chosen last; it follows your edits.',
  exportMusic:
    'The lesson, the phrase at the cursor, or files and folders of the explorer as MusicXML (compressed too) at written or concert pitch, with degrees, devices and findings on request; or as MIDI, as played or straight, in one key or all twelve. What you chose last is kept.',
  bringIn:
    'Scores in MusicXML as lessons beside them: files of your choice, or files and folders of the explorer. Asks for the part where there are several; the output tells what was not kept.',
  bringInWith: 'As *Bring In*, with a number of bars a phrase, or with chords in place of those of the score.',
  writeSound:
    'The phrase at the cursor or the lesson as a WAV: which voices (without the line: to play along), count-in, tempo, keys. Levels and swing are those of the score. What you chose last is kept.',
  cycleDegreeHints: 'All notes, only those with a finding, none.',
};

/** Markdown: one table each of settings, commands and colours. */
export function settingsPage({ contributes: { configuration, commands, keybindings, colors } }: Manifest): string {
  const settings = Object.entries(configuration.properties).map(
    ([name, setting]) => `| \`${name}\` | \`${String(setting.default)}\` | ${tableCell(meaning(setting))} |`,
  );
  const listed = commands.map(({ command, title, category }) => {
    const keys = [
      ...new Set(
        keybindings
          .filter((binding) => binding.command === command)
          .map(({ key, mac }) => (mac === undefined ? `\`${key}\`` : `\`${key}\`, on a Mac \`${mac}\``)),
      ),
    ];
    return `| ${category ?? 'Phrasewright'}: ${title} | ${keys.join('; ')} | ${DOES[command.replace(/^phrasewright\./, '')] ?? ''} |`;
  });
  const drawn = colors.map(({ id, description }) => `| \`${id}\` | ${tableCell(description)} |`);
  return `# Settings, commands and colours

\`npm run docs\` makes this page from the extension's manifest (\`package.json\`).

## Settings

| setting | default | meaning |
| --- | --- | --- |
${settings.join('\n')}

## Commands

| command | key | what it does |
| --- | --- | --- |
${listed.join('\n')}

## Colours

The colours are the theme's, and shapes and words tell all without them. Each can be changed in \`workbench.colorCustomizations\`.

| colour | of what |
| --- | --- |
${drawn.join('\n')}
`;
}

function meaning({ description, markdownDescription, enum: values, enumDescriptions, markdownEnumDescriptions }: Setting): string {
  const told = enumDescriptions ?? markdownEnumDescriptions ?? [];
  const choices = (values ?? []).map((value, i) => (told[i] === undefined ? `\`${value}\`` : `\`${value}\`: ${told[i]}`));
  return [markdownDescription ?? description ?? '', ...choices].join('<br>');
}
