/** Emphasis in prose: what Markdown marks is told apart, and the marks are gone. */

export interface Words {
  readonly text: string;
  readonly isStrong: boolean;
  readonly isEmphasized: boolean;
}

/**
 * Escapes, code, links, strong words, emphasized words (after CommonMark 0.31, sections 2.4, 6.1 to 6.3). An underscore inside a word is no mark,
 * nor is an asterisk between spaces.
 */
const MARKED =
  /\\([!-/:-@[-`{-~])|(`+)(.+?)\2(?!`)|\[([^\][]+)\]\([^()\s]*\)|(\*\*|(?<!\w)__)(?=\S)(.*?\S)\5(?!(?<=_)\w)(?!\*)|(\*|(?<!\w)_)(?=[^\s*])(.*?[^\s*]|\S)\7(?!(?<=_)\w)/su;

/** The words of a paragraph in order. Marks without a partner stay as they are. */
export function wordsOf(prose: string): Words[] {
  return joined(read(prose, { isStrong: false, isEmphasized: false }));
}

function read(prose: string, look: Omit<Words, 'text'>): Words[] {
  const found = MARKED.exec(prose);
  if (found === null) return [{ text: prose, ...look }];
  const [whole, escaped, , code, link, , strong, , emphasized] = found;
  const inner =
    strong !== undefined
      ? read(strong, { ...look, isStrong: true })
      : emphasized !== undefined
        ? read(emphasized, { ...look, isEmphasized: true })
        : link !== undefined
          ? read(link, look)
          : [{ text: escaped ?? code!.trim(), ...look }];
  return [{ text: prose.slice(0, found.index), ...look }, ...inner, ...read(prose.slice(found.index + whole.length), look)];
}

function joined(words: readonly Words[]): Words[] {
  const kept: Words[] = [];
  for (const one of words) {
    const last = kept[kept.length - 1];
    if (last !== undefined && last.isStrong === one.isStrong && last.isEmphasized === one.isEmphasized)
      kept[kept.length - 1] = { ...last, text: last.text + one.text };
    else if (one.text !== '') kept.push(one);
  }
  return kept;
}
