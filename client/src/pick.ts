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
export async function pickMany<T extends string>(
  title: string,
  items: readonly (Omit<Item<T>, 'value'> & { readonly value: T })[],
  now: readonly string[],
): Promise<T[] | undefined> {
  const picked = await vscode.window.showQuickPick(
    items.map((item) => ({ ...item, picked: now.includes(item.value) })),
    { title, canPickMany: true },
  );
  return picked?.map(({ value }) => value);
}

/** Parts the rows that end a list from what is chosen; it says “as chosen last” only where somebody chose. */
function settingsHeading(wasChosen: boolean): Item<never> {
  return { value: null, label: wasChosen ? 'as chosen last' : '', kind: vscode.QuickPickItemKind.Separator };
}

/** A list that shows what is chosen: a row of it changes one thing, and a few rows end it. */
export interface Changes<Choice, Row extends string, End extends string> {
  readonly choice: Choice;
  /** Whether it was chosen, or is what everybody has at first. */
  readonly wasChosen: boolean;
  readonly title: (choice: Choice) => string;
  /** `heading` parts the rows that end the list from the others. */
  readonly rows: (choice: Choice, heading: Item<never>) => readonly Item<Row | End>[];
  /** The row that the list stands on at first; later it is the last that was changed. */
  readonly first: End;
  /** Asks for one thing; undefined leaves it as it is. */
  readonly ask: Readonly<Record<Row, (choice: Choice) => Promise<Choice | undefined>>>;
  /** Called when something is chosen, so that it is kept. */
  readonly onChange: (choice: Choice) => void;
}

/** The row that ended the list, and what was chosen by then; undefined where the list is left. */
export async function pickChanges<Choice, Row extends string, End extends string>({
  title,
  rows,
  first,
  ask,
  onChange,
  wasChosen,
  ...start
}: Changes<Choice, Row, End>): Promise<{ readonly end: End; readonly choice: Choice } | undefined> {
  const isRow = (picked: Row | End): picked is Row => Object.hasOwn(ask, picked);
  let { choice } = start;
  let last: Row | End = first;
  for (;;) {
    const picked: Row | End | undefined = await pickOne(
      title(choice),
      rows(choice, settingsHeading(wasChosen || choice !== start.choice)),
      last,
    );
    if (picked === undefined) return undefined;
    if (!isRow(picked)) return { end: picked, choice };
    last = picked;
    const changed = await ask[picked](choice);
    if (changed === undefined) continue;
    choice = changed;
    onChange(choice);
  }
}
