/** Puts the generated tables into a text between their markers. */
import { ASSISTS } from './assists/registry';
import { rulesTable } from './rules/manual';

function assistsTable(): string {
  const rows = ASSISTS.map(({ id, kind, what }) => `| \`${id}\` | \`${kind}\` | ${what.replaceAll('|', '\\|')} |`);
  return ['| action | kind | what it does |', '| --- | --- | --- |', ...rows].join('\n');
}

/** The text with the tables of today; every marker must be there. Throws where one is missing. */
export function withTables(text: string): string {
  return [['rules', rulesTable()], ['actions', assistsTable()]].reduce((result, [name, table]) => {
    const pattern = new RegExp(`(<!-- ${name}: made by npm run docs -->\\n)[\\s\\S]*?(<!-- end of ${name} -->)`);
    if (!pattern.test(result)) throw new Error(`The marker of the table “${name}” is missing.`);
    return result.replace(pattern, (_, open: string, close: string) => `${open}${table!}\n${close}`);
  }, text);
}
