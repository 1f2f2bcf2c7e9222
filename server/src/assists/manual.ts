/** The page of the code actions, made from what they say of themselves. */
import { ASSISTS } from './registry';

const HEAD = `# Code actions

On a note they repair and embellish it; over a selection of several notes they embellish each; on the name of a phrase, its \`key\`, \`over\`, \`meter\` or \`line\` they change the whole phrase. Each has been tried on the phrase before it is offered: it adds no error and no clash.
A menu shows at most a dozen, each device once, in its likeliest form; its last entry, “More …”, lists every form under headings, and the score, if it is open, shows the one you stand on before you take it.
To have all forms of one action in a list of its own, bind a key to its kind:

\`\`\`json
{ "key": "ctrl+alt+e", "command": "editor.action.codeAction", "args": { "kind": "refactor.rewrite.enclosure" } }
\`\`\`

\`npm run docs\` makes this page from the actions beside it.
`;

/** Markdown: a table of all actions, in the order of the menu. */
export function actionsPage(): string {
  const rows = ASSISTS.map(({ id, kind, what }) => `| \`${id}\` | \`${kind}\` | ${what.replaceAll('|', '\\|')} |`);
  return `${HEAD}\n| action | kind | what it does |\n| --- | --- | --- |\n${rows.join('\n')}\n`;
}
