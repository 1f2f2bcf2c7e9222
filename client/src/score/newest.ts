/** Asks for what is newest alone: while an answer is awaited, further wishes are kept as one. */

/**
 * Answers what makes a wish; its promise ends when nothing is wished for any more. `ask` is an async function: it is told whether something
 * newer is wished for meanwhile, and says whether it is to be asked again.
 */
export function newestOnly(ask: (isOvertaken: () => boolean) => Promise<'again' | 'done'>): () => Promise<void> {
  let isWanted = false;
  let asking: Promise<void> | undefined;
  const askAll = async (): Promise<void> => {
    try {
      while (isWanted) {
        isWanted = false;
        if ((await ask(() => isWanted)) === 'again') isWanted = true;
      }
    } finally {
      // At once after the last look: a wish that comes later begins anew.
      asking = undefined;
    }
  };
  return () => {
    isWanted = true;
    asking ??= askAll();
    return asking;
  };
}
