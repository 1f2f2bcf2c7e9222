/** The pages that `npm run docs` makes, each beside the code that it is made from. */
import { actionsPage } from './assists/manual';
import { settingsPage, type Manifest } from './settings-page';
import { rulesPage } from './rules/manual';

/** The text of each page, by its path from the root of the project. */
export function pages(manifest: Manifest): ReadonlyMap<string, string> {
  return new Map([
    ['server/src/rules/RULES.md', rulesPage()],
    ['server/src/assists/ACTIONS.md', actionsPage()],
    ['client/SETTINGS.md', settingsPage(manifest)],
  ]);
}
