/** The extension's own language client in an editor that is none: what `bundle-client.ts` bundles. */
export { createClient, watchStates } from '../../client/src/server/client';
export { keepRunning, STOPPED } from '../../client/src/server/keep-running';
export { ALIVE, watchSilence } from '../../client/src/server/watch-silence';
export { log, messages, open, output, shown } from './fake-editor';
