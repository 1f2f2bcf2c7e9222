/** Modules whose functions throw where a test wants it: for `vi.mock`, loaded within `vi.hoisted`. */

/** The module with its functions as they are, but that each throws where `isBroken` says so of its name and of what it is asked. */
export function breakable(
  isBroken: (name: string, args: readonly unknown[]) => boolean,
): (original: () => Promise<object>) => Promise<object> {
  return async (original) =>
    Object.fromEntries(
      Object.entries(await original()).map(([name, value]: [string, unknown]) => [
        name,
        typeof value !== 'function'
          ? value
          : Object.assign((...args: unknown[]): unknown => {
              if (isBroken(name, args)) throw new Error(`${name} is broken`);
              return (value as (...all: unknown[]) => unknown)(...args);
            }, value),
      ]),
    );
}

/** Whether a value, or what it holds under these names, up to four objects deep, is the one looked for. */
export function holds(value: unknown, names: readonly string[], isIt: (value: unknown) => boolean, depth = 4): boolean {
  if (isIt(value)) return true;
  return (
    value !== null &&
    typeof value === 'object' &&
    depth > 0 &&
    names.some((name) => holds((value as Record<string, unknown>)[name], names, isIt, depth - 1))
  );
}
