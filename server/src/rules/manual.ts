/** The page of the rules, made from what the rules say of themselves: its examples are those that tests run. */
import { openSnapshot } from '../model/snapshot';
import { DEFAULT_THEORY } from '../analysis/read';
import { findingsOf } from './findings';
import { RULES } from './registry';
import type { RuleDoc } from './rule';

const HEAD = `# Rules

Each finding names one of these rules. An *error* keeps something from being read; a *warning* is something to change or to mark as intended; *information* and *hints* are worth a look.
\`npm run docs\` makes this page from the rules beside it; every example is a test.
`;

/** Markdown: a table of contents, then a section a rule, each with an anchor (\`rule-ID\`) that findings link to. */
export function rulesPage(): string {
  const rules = [...RULES].sort((a, b) => a.id.localeCompare(b.id));
  const contents = rules.map(({ id, severity, what }) => `| [\`${id}\`](#rule-${id}) | ${severity} | ${tableCell(what)} |`);
  return `${HEAD}\n| rule | usual severity | what it finds |\n| --- | --- | --- |\n${contents.join('\n')}\n\n${rules.map(section).join('\n')}`;
}

function section({ id, severity, what, why, example, instead, fix }: RuleDoc): string {
  const said = messageIn(example, id);
  const shown = example === '' ? '' : `\n${codeBlock(example)}${said === null ? '' : `\n> ${said}\n`}\nInstead:\n\n${codeBlock(instead)}`;
  return `## <a id="rule-${id}"></a>${id}\n\n*${severity}.* ${what} ${why}\n\n${fix}\n${shown}`;
}

/** What the rule says of its own example, in the words that the editor shows; null where it is another one's to say. */
function messageIn(example: string, id: string): string | null {
  return findingsOf(openSnapshot('', 1, example), DEFAULT_THEORY).find(({ rule }) => rule === id)?.message ?? null;
}

/** A text as a block of code. */
export function codeBlock(text: string): string {
  return `\`\`\`\n${text.trimEnd()}\n\`\`\`\n`;
}

/** A text that may stand in a cell of a table. */
export function tableCell(text: string): string {
  return text.replaceAll('|', '\\|');
}
