/** The parts of a score, for whoever is asked to choose one. */
import { scoreXml } from './bytes';
import { readDocument, type ScorePart } from './document';
import { childrenOf, parseXml } from './xml';

export interface PartSummary {
  /** What `ImportOptions.part` takes. */
  readonly part: string;
  /** As the score names it, else its id. */
  readonly name: string;
  readonly measures: number;
  readonly hasChords: boolean;
}

/** In the score's order. Throws `Unreadable`. */
export function partsIn(bytes: Uint8Array): PartSummary[] {
  return readDocument(parseXml(scoreXml(bytes))).parts.map(summary);
}

function summary({ id, name, measures }: ScorePart): PartSummary {
  return {
    part: id,
    name: name === '' ? id : name,
    measures: measures.length,
    hasChords: measures.some((measure) => childrenOf(measure, 'harmony').length > 0),
  };
}
