/** The page of the code actions, made from what they say of themselves and from what they do to their examples. */
import { DEFAULT_THEORY } from '../analysis/read';
import { openSnapshot } from '../model/snapshot';
import { applyPlaced } from '../rules/findings';
import { codeBlock } from '../rules/manual';
import type { Assist } from './assist';
import { EXAMPLES } from './examples';
import { ASSISTS, offersAt } from './registry';

const HEAD = `# Code actions

On a note they repair and embellish it; over a selection of several notes they embellish each; on the name of a phrase, its \`key\`, \`over\`, \`meter\` or \`line\` they change the whole phrase. Each has been tried on the phrase before it is offered: it adds no error and no clash.
A menu shows at most a dozen, each device once, in its likeliest form; its last entry, “More …”, lists every form under headings, and the score, if it is open, shows the one you stand on before you take it.
To have all forms of one action in a list of its own, bind a key to its kind:

\`\`\`json
{ "key": "ctrl+alt+e", "command": "editor.action.codeAction", "args": { "kind": "refactor.rewrite.enclosure" } }
\`\`\`

\`npm run docs\` makes this page from the actions beside it. In the examples \`¦\` is the cursor, or an end of the selection; below each stands its first form.
`;

/** Markdown: a section an action, in the order of the menu, each with an example before and after. */
export function actionsPage(): string {
  return `${HEAD}\n${ASSISTS.map(section).join('\n')}`;
}

function section({ id, kind, what }: Assist): string {
  const { title, after } = tried(id);
  return `## <a id="action-${id}"></a>${id}\n\n\`${kind}\`\n\n${what}\n\n${codeBlock(EXAMPLES[id]!)}\n*${title}*\n\n${codeBlock(firstLines(after))}`;
}

/** The first form of an action on its own example. Throws where it is not offered there. */
function tried(id: string): { readonly title: string; readonly after: string } {
  const { text, start, end } = exampleOf(id);
  const assist = ASSISTS.find((one) => one.id === id)!;
  const offers = offersAt(openSnapshot('', 1, text), { start, end, only: [assist.kind] }, DEFAULT_THEORY, (error) => {
    throw error;
  });
  const offer = offers.find((one) => one.assist === id);
  if (offer === undefined) throw new Error(`“${id}” is not offered in its own example (assists/examples.ts).`);
  return { title: offer.title, after: applyPlaced(text, offer.edits()) };
}

/** An example's text without its marks, and the cursor or the selection they stand for. Throws where there is none. */
export function exampleOf(id: string): { readonly text: string; readonly start: number; readonly end: number } {
  const [before, ...rest] = (EXAMPLES[id] ?? '').split('¦');
  if (rest.length === 0 || rest.length > 2)
    throw new Error(`“${id}” has no example with a cursor. Give it one in assists/examples.ts, with ¦ where the cursor is.`);
  const start = before!.length;
  return { text: before! + rest.join(''), start, end: rest.length === 2 ? start + rest[0]!.length : start };
}

/** Enough to see what comes of it. */
const MOST_LINES = 18;

function firstLines(text: string): string {
  const lines = text.trimEnd().split('\n');
  return lines.length <= MOST_LINES ? text : [...lines.slice(0, MOST_LINES), '…'].join('\n');
}
