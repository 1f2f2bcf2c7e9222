/** The server with an endless loop in it: it hangs as soon as somebody types “hang here”. A text that has the words when it is opened does nothing. */
import { serve } from '../../server/src/main-node';

process.on('message', (message) => {
  const sent = JSON.stringify(message);
  if (sent.includes('textDocument/didChange') && sent.includes('hang here')) for (;;);
});
serve();
