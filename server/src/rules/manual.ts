/** The tables of the manual, made from what the rules say of themselves, so that they cannot go stale unnoticed. */
import { RULES } from './registry';

/** A Markdown table of all rules, each with an anchor that findings link to. */
export function rulesTable(): string {
  const rows = [...RULES]
    .sort((a, b) => a.id.localeCompare(b.id))
    .map((rule) => `| <a id="rule-${rule.id}"></a>\`${rule.id}\` | ${rule.severity} | ${cell(rule.what)} ${cell(rule.why)} | ${cell(rule.fix)} |`);
  return ['| rule | usual severity | what it finds, and why it matters | what to do |', '| --- | --- | --- | --- |', ...rows].join('\n');
}

function cell(text: string): string {
  return text.replaceAll('|', '\\|');
}
