/** A text with fields to fill in: for a client that goes from field to field, and as plain text for one that does not. */

/** The first value is written; several are a choice. */
export type Field = readonly [string, ...string[]];

/** Text and fields in their order; after the last field the cursor goes to the end. */
export type Template = readonly (string | Field)[];

export function plainText(template: Template): string {
  return template.map((part) => (typeof part === 'string' ? part : part[0])).join('');
}

/** In the snippet syntax of the Language Server Protocol. */
export function snippetText(template: Template): string {
  let fields = 0;
  const parts = template.map((part) => {
    if (typeof part === 'string') return part.replace(/[\\$}]/g, '\\$&');
    fields += 1;
    const [value, ...others] = part;
    return others.length === 0
      ? `\${${fields}:${value.replace(/[\\$}]/g, '\\$&')}}`
      : `\${${fields}|${part.map((one) => one.replace(/[\\$},|]/g, '\\$&')).join(',')}|}`;
  });
  return `${parts.join('')}$0`;
}
