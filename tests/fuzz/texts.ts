/** Texts to try: any bytes, what the property tests draw, and the samples with something wrong in them. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import {
  junk,
  lessonPhraseArbitrary,
  leadingPhraseArbitrary,
  pageArbitrary,
  phraseArbitrary,
  plainPhraseArbitrary,
  shards,
} from '../property/arbitrary';

/** From the project's folder, where every run starts. */
export const SAMPLES = readdirSync('samples')
  .filter((file) => file.endsWith('.phrase'))
  .map((file) => readFileSync(`samples/${file}`, 'utf8'));

const bytes = fc.uint8Array({ maxLength: 400 }).map((array) => new TextDecoder().decode(array));
/** UTF-16 of any kind, halves of surrogate pairs too. */
const units = fc.array(fc.nat(0xffff), { maxLength: 60 }).map((codes) => String.fromCharCode(...codes));

const grammarMade = fc
  .oneof(phraseArbitrary, plainPhraseArbitrary, lessonPhraseArbitrary, leadingPhraseArbitrary, pageArbitrary)
  .map(({ text }) => text);

/** A change of a text; its numbers are taken modulo what the text has. */
export interface Mutation {
  readonly kind: 'insert' | 'delete' | 'replace' | 'repeat' | 'splice' | 'swap lines';
  readonly at: number;
  readonly length: number;
  readonly text: string;
}

export const mutation: fc.Arbitrary<Mutation> = fc.record({
  kind: fc.constantFrom('insert', 'insert', 'delete', 'delete', 'replace', 'replace', 'repeat', 'splice', 'swap lines'),
  at: fc.nat(1_000_000),
  length: fc.oneof({ weight: 4, arbitrary: fc.nat(6) }, { weight: 1, arbitrary: fc.nat(80) }),
  text: fc.oneof({ weight: 4, arbitrary: shards }, { weight: 1, arbitrary: units }),
});

export function mutated(text: string, mutations: readonly Mutation[], other = text): string {
  return mutations.reduce((before, { kind, at, length, text: inserted }) => {
    const from = at % (before.length + 1);
    const to = Math.min(before.length, from + length);
    const [head, middle, tail] = [before.slice(0, from), before.slice(from, to), before.slice(to)];
    switch (kind) {
      case 'insert':
        return head + inserted + middle + tail;
      case 'delete':
        return head + tail;
      case 'replace':
        return head + inserted + tail;
      case 'repeat':
        return head + middle.repeat(2 + (at % 3)) + tail;
      case 'splice':
        return head + other.slice(at % (other.length + 1)).slice(0, 4 * length) + tail;
      case 'swap lines': {
        const lines = before.split('\n');
        const [i, k] = [at % lines.length, (at + length) % lines.length];
        [lines[i], lines[k]] = [lines[k]!, lines[i]!];
        return lines.join('\n');
      }
    }
  }, text);
}

/** A passage of a sample, its lines whole. */
const passage = (lines: number): fc.Arbitrary<string> =>
  fc.tuple(fc.constantFrom(...SAMPLES), fc.nat()).map(([sample, pick]) => {
    const all = sample.split('\n');
    const start = pick % all.length;
    return all.slice(start, start + lines).join('\n');
  });

const mutatedFrom = (texts: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .tuple(texts, fc.array(mutation, { minLength: 1, maxLength: 8 }), fc.constantFrom(...SAMPLES))
    .map(([text, mutations, other]) => mutated(text, mutations, other));

/** A lesson with something wrong in it. */
export const mutatedLesson: fc.Arbitrary<string> = mutatedFrom(
  fc.oneof({ weight: 3, arbitrary: passage(30) }, { weight: 2, arbitrary: grammarMade }),
);

export const anyText: fc.Arbitrary<string> = fc.oneof(
  { weight: 1, arbitrary: bytes },
  { weight: 1, arbitrary: units },
  { weight: 3, arbitrary: junk },
  { weight: 2, arbitrary: grammarMade },
  { weight: 4, arbitrary: mutatedFrom(passage(12)) },
  { weight: 2, arbitrary: mutatedFrom(grammarMade) },
);
