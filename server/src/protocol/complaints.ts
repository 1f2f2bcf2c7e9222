/** What is told of errors: all of them to the log; of what breaks off over and over the first time alone, and then to the writer too. */
import { MessageType, ShowMessageNotification, type Connection } from 'vscode-languageserver';
import { Fault, faultWords, onceEach } from '../model/faults';

export function openComplaints(connection: Connection): (error: unknown) => void {
  const log = (error: unknown): void => connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
  const once = onceEach((fault) => {
    log(fault);
    connection
      .sendNotification(ShowMessageNotification.type, { type: MessageType.Warning, message: `${faultWords(fault)} The output says more.` })
      .catch(log);
  });
  return (error) => (error instanceof Fault ? once(error) : log(error));
}
