/** `list.flatMap(listOf)` for what every word or note of a file passes: the engine's own method takes ten times as long for each element. */
export function flatMap<T, U>(list: readonly T[], listOf: (element: T, index: number) => readonly U[]): U[] {
  const all: U[] = [];
  for (let i = 0; i < list.length; i += 1) for (const one of listOf(list[i]!, i)) all.push(one);
  return all;
}
