/** What the protocol's messages have of a slice, kept from version to version while the slice neither changes nor moves. */

/**
 * A memory of such values. `of` is the same object as long as the slice is what it was, and another one for each slice; `line` is where the slice
 * begins, and `index` what else its value depends on. A slice begins at the start of a line, so that its line says where all its places are.
 */
export function keptInLine<T>(): (of: object, line: number, index: number, make: () => T) => T {
  const memory = new WeakMap<object, { readonly line: number; readonly index: number; readonly value: T }>();
  return (of, line, index, make) => {
    const known = memory.get(of);
    if (known !== undefined && known.line === line && known.index === index) return known.value;
    const value = make();
    memory.set(of, { line, index, value });
    return value;
  };
}
