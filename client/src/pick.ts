/** Lists to choose from, which stand on what is chosen now. */
import * as vscode from 'vscode';

/** A row; one without a value (a separator) cannot be chosen. */
export interface Item<T extends string> extends vscode.QuickPickItem {
  readonly value: T | null;
}

/** A list that stands on what is chosen now; undefined where it is left. */
export function pickOne<T extends string>(title: string, items: readonly Item<T>[], now: T | string): Promise<T | undefined> {
  const list = vscode.window.createQuickPick<Item<T>>();
  list.title = title;
  list.matchOnDescription = true;
  list.items = items;
  list.activeItems = items.filter(({ value }) => value === now);
  return new Promise((resolve) => {
    list.onDidAccept(() => {
      resolve(list.activeItems[0]?.value ?? undefined);
      list.hide();
    });
    list.onDidHide(() => {
      resolve(undefined);
      list.dispose();
    });
    list.show();
  });
}

/** Several of a list, `now` chosen at first; undefined where the list is left. */
export async function pickMany<T extends string>(title: string, items: readonly (Omit<Item<T>, 'value'> & { readonly value: T })[], now: readonly string[]): Promise<T[] | undefined> {
  const picked = await vscode.window.showQuickPick(items.map((item) => ({ ...item, picked: now.includes(item.value) })), { title, canPickMany: true });
  return picked?.map(({ value }) => value);
}
