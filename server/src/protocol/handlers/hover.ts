import type { Hover, HoverParams } from 'vscode-languageserver';
import { hoverAt } from '../../features/hover/index';
import { onDocument } from '../answer';
import { toHover } from '../convert';
import type { Session } from '../session';

export function handleHover(session: Session): void {
  session.connection.onHover(
    onDocument<HoverParams, Hover | null>({ what: 'hover', session }, null, (document, { position }) => {
      const hover = hoverAt(session.snapshotOf(document), document.offsetAt(position), session.settings.theory);
      return hover === null ? null : toHover(document, hover);
    }),
  );
}
