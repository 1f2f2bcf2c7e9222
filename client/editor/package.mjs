/** `npm run package`: builds the extension and packs it into a .vsix. */
import { buildProject, installEditor, installProject, packageExtension, runMain } from './tools.mjs';

await runMain(async () => {
  installProject();
  buildProject();
  installEditor();
  console.log(packageExtension());
});
