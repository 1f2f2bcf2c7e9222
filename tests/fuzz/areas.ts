/** All that is tried, in the order of the report. */
import type { Area } from './area';
import { engraving } from './engraving-area';
import { imported } from './imports-area';
import { memory } from './memory-area';
import { protocol } from './protocol-area';
import { everywhere, fewRequests, requests } from './requests-area';
import { edits, exported, formatting, parser } from './texts-areas';

export const AREAS: readonly Area[] = [
  parser,
  formatting,
  edits,
  exported,
  imported,
  engraving,
  requests,
  everywhere,
  fewRequests,
  protocol,
  memory,
];
