/**
 * The server with an endless loop in it: it hangs as soon as somebody types “hang here”. A text that has the words when it is opened does
 * nothing. Where a file “hang-at-start” lies beside it, it hangs at the first question.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serve } from '../../server/src/main-node';

process.on('message', (message) => {
  const sent = JSON.stringify(message);
  if (sent.includes('textDocument/didChange') && sent.includes('hang here')) for (;;);
  if (sent.includes('"method":"initialize"') && existsSync(join(__dirname, 'hang-at-start'))) for (;;);
});
serve();
