/** From a name to its definition, its uses, and all its places on the page. */
import type { DefinitionParams, DocumentHighlight, DocumentHighlightParams, Location, ReferenceParams } from 'vscode-languageserver';
import { definitionAt } from '../../features/definition';
import { referencesAt } from '../../features/references';
import { onDocument } from '../answer';
import { toHighlight, toLocation } from '../convert';
import type { Session } from '../session';

export function handleNavigation(session: Session): void {
  const { connection } = session;
  connection.onDefinition(
    onDocument<DefinitionParams, Location | null>({ what: 'definition', session }, null, (document, { position }) => {
      const found = definitionAt(session.snapshotOf(document), document.offsetAt(position));
      return found === null ? null : toLocation(document, found);
    }),
  );
  connection.onReferences(
    onDocument<ReferenceParams, Location[]>({ what: 'uses', session }, [], (document, { position, context }) =>
      referencesAt(session.snapshotOf(document), document.offsetAt(position))
        .filter(({ defines }) => context.includeDeclaration || !defines)
        .map((place) => toLocation(document, place)),
    ),
  );
  connection.onDocumentHighlight(
    onDocument<DocumentHighlightParams, DocumentHighlight[]>(
      { what: 'highlights', urgency: 'soon', session },
      [],
      (document, { position }) =>
        referencesAt(session.snapshotOf(document), document.offsetAt(position)).map((place) => toHighlight(document, place)),
    ),
  );
}
